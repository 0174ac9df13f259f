//! What a cut list costs at the least.

use super::first_fit::Stock;

/// Sums of prices beyond which the bound is no longer raised to one that bars can have.
const DEEPEST: u64 = 1 << 22;

/// A sum that no cut list of `pieces` from `stocks` can be cheaper than.
///
/// The greater of two bounds, raised to the next sum of prices: the material bound (all length with its kerfs, less
/// what lies on hand, at the cheapest price of length), and where one stock alone is bought, the bound L2 of
/// S. Martello and P. Toth, 1990 (pieces over half a bar each need their own, and what fits beside none of them
/// needs more bars). A limited count of a bought stock is not used, which can only lower the bound.
pub fn lower_bound(stocks: &[Stock], pieces: &[u64], kerf: u64) -> u64 {
    let with_kerf = |length: u64| length.saturating_add(kerf);
    let needed: u128 = pieces.iter().map(|&p| u128::from(with_kerf(p))).sum();
    if stocks
        .iter()
        .any(|stock| stock.price == 0 && stock.count.is_none())
    {
        return 0;
    }
    let on_hand: u128 = stocks
        .iter()
        .filter(|stock| stock.price == 0)
        .map(|stock| u128::from(with_kerf(stock.length)) * u128::from(stock.count.unwrap_or(0)))
        .sum();
    let bought: Vec<&Stock> = stocks.iter().filter(|stock| stock.price > 0).collect();
    let rest = needed.saturating_sub(on_hand);
    let material = bought
        .iter()
        .map(|stock| {
            let room = u128::from(with_kerf(stock.length)).max(1);
            (rest * u128::from(stock.price)).div_ceil(room)
        })
        .min()
        .unwrap_or(0);
    let mut bound = u64::try_from(material).unwrap_or(u64::MAX);
    if let ([only], 0) = (bought.as_slice(), on_hand) {
        let sizes: Vec<u64> = pieces.iter().map(|&p| with_kerf(p)).collect();
        let bars = martello_toth(&sizes, with_kerf(only.length));
        bound = bound.max(bars.saturating_mul(only.price));
    }
    let prices: Vec<u64> = bought.iter().map(|stock| stock.price).collect();
    raised(bound, &prices)
}

/// The bound L2: the best over every size α up to half a bar of
/// bars for pieces over half, and more for what of the pieces from α to half does not fit beside them.
fn martello_toth(sizes: &[u64], room: u64) -> u64 {
    let mut alphas: Vec<u64> = sizes
        .iter()
        .copied()
        .filter(|size| size.saturating_mul(2) <= room)
        .collect();
    alphas.push(0);
    alphas.sort_unstable();
    alphas.dedup();
    let count = |test: &dyn Fn(u64) -> bool| {
        sizes
            .iter()
            .filter(|&&size| test(size))
            .fold(0_u64, |n, _| n + 1)
    };
    let sum = |test: &dyn Fn(u64) -> bool| -> u128 {
        let chosen = sizes.iter().filter(|&&size| test(size));
        chosen.map(|&size| u128::from(size)).sum()
    };
    let half = |size: u64| size.saturating_mul(2) > room;
    alphas
        .into_iter()
        .map(|alpha| {
            let alone = |size: u64| size > room - alpha;
            let big = |size: u64| half(size) && !alone(size);
            let small = |size: u64| size >= alpha && !half(size);
            let bigs = count(&big);
            let beside = u128::from(bigs) * u128::from(room) - sum(&big);
            let over = sum(&small).saturating_sub(beside);
            let more = u64::try_from(over.div_ceil(u128::from(room.max(1)))).unwrap_or(u64::MAX);
            count(&alone) + bigs + more
        })
        .max()
        .unwrap_or(0)
}

/// The least sum of prices that is not below `bound`.
fn raised(bound: u64, prices: &[u64]) -> u64 {
    let (Some(&least), Some(&most)) = (prices.iter().min(), prices.iter().max()) else {
        return bound;
    };
    if bound == 0 || least == 0 {
        return bound;
    }
    if least == most {
        return bound.div_ceil(least).saturating_mul(least);
    }
    let end = bound.saturating_add(most);
    let Some(length) = usize::try_from(end).ok().filter(|_| end <= DEEPEST) else {
        return bound;
    };
    let mut reached = vec![false; length + 1];
    if let Some(start) = reached.first_mut() {
        *start = true;
    }
    for sum in 1..=length {
        let can = prices.iter().any(|&price| {
            usize::try_from(price)
                .ok()
                .and_then(|price| sum.checked_sub(price))
                .and_then(|before| reached.get(before).copied())
                .unwrap_or(false)
        });
        if let Some(here) = reached.get_mut(sum) {
            *here = can;
        }
    }
    (bound..=end)
        .find(|&sum| {
            usize::try_from(sum)
                .ok()
                .and_then(|sum| reached.get(sum).copied())
                .unwrap_or(false)
        })
        .unwrap_or(bound)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bought(length: u64, price: u64) -> Stock {
        Stock {
            length,
            price,
            count: None,
        }
    }

    #[test]
    fn pieces_over_half_need_a_bar_each() {
        assert_eq!(lower_bound(&[bought(100, 7)], &[51, 51, 51], 0), 21);
        // Their length alone would ask for two.
        assert_eq!(lower_bound(&[bought(100, 7)], &[50, 50, 50], 0), 14);
    }

    #[test]
    fn a_bound_between_two_sums_of_prices_is_raised() {
        // 130 of length at 3 a 50 would cost 7.8; with bars of 50 at 3 and 120 at 10 the sums are 3, 6, 9, 10.
        let stocks = [bought(50, 3), bought(120, 10)];
        assert_eq!(lower_bound(&stocks, &[40, 40, 50], 0), 9);
        assert_eq!(raised(7, &[5, 3]), 8);
    }

    #[test]
    fn what_lies_on_hand_costs_nothing() {
        let leftover = Stock {
            length: 100,
            price: 0,
            count: Some(1),
        };
        assert_eq!(lower_bound(&[bought(100, 5), leftover], &[100], 0), 0);
        assert_eq!(lower_bound(&[bought(100, 5), leftover], &[100, 1], 0), 5);
    }
}
