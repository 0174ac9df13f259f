//! First-fit decreasing over several stock lengths.

use std::cmp::Reverse;

use super::bound::lower_bound;

/// A stock length and its price, both whole numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Its length.
    pub length: u64,
    /// Its price; nothing for a leftover on hand.
    pub price: u64,
    /// How many there are; as many as wanted when not said.
    pub count: Option<u64>,
}

/// One bar that is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// Which stock it is, by place in the list given.
    pub stock: usize,
    /// The pieces cut from it, by place in the list given, longest first.
    pub pieces: Vec<usize>,
}

/// What is cut from what.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The bars, in the order in which they were begun.
    pub bars: Vec<Bar>,
    /// Pieces that no stock holds.
    pub unplaced: Vec<usize>,
    /// Sum of the prices of the bars.
    pub cost: u64,
    /// No plan costs less than this.
    pub bound: u64,
}

impl Plan {
    /// Whether no plan can cost less: every piece has its place and the cost equals the bound.
    pub const fn proven(&self) -> bool {
        self.cost == self.bound && self.unplaced.is_empty()
    }
}

/// Which new bar is begun when no open one has room.
#[derive(Clone, Copy)]
enum Choice {
    /// The one that is cheapest for its length.
    CheapestForLength,
    /// The longest.
    Longest,
    /// The cheapest that holds the piece.
    Cheapest,
}

/// Cuts `pieces` from `stocks`, each cut taking `kerf`, by first-fit decreasing.
///
/// A bar of length L holds pieces when their sum and one kerf between each two are at most L. What lies on
/// hand (price 0) is begun before anything is bought, the shortest that holds the piece first. New bars are
/// chosen in three ways and the cheapest plan is kept; then each bar is exchanged for the cheapest that still holds
/// its pieces. Source: D. S. Johnson, 1974, for the rule; the choice of bars is common practice.
pub fn pack(stocks: &[Stock], pieces: &[u64], kerf: u64) -> Plan {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by_key(|&piece| (Reverse(pieces.get(piece).copied()), piece));
    let desk = Desk {
        stocks,
        pieces,
        kerf,
        order: &order,
    };
    let choices = [Choice::CheapestForLength, Choice::Longest, Choice::Cheapest];
    let mut best: Option<Plan> = None;
    for choice in choices {
        let plan = desk.plan(choice);
        let better = best.as_ref().is_none_or(|best| {
            (plan.unplaced.len(), plan.cost, plan.bars.len())
                < (best.unplaced.len(), best.cost, best.bars.len())
        });
        if better {
            best = Some(plan);
        }
    }
    let mut plan = best.unwrap_or_default();
    let placed: Vec<u64> = plan
        .bars
        .iter()
        .flat_map(|bar| &bar.pieces)
        .filter_map(|&piece| pieces.get(piece).copied())
        .collect();
    plan.bound = lower_bound(stocks, &placed, kerf).min(plan.cost);
    plan
}

struct Desk<'d> {
    stocks: &'d [Stock],
    pieces: &'d [u64],
    kerf: u64,
    order: &'d [usize],
}

struct Open {
    stock: usize,
    used: u64,
    pieces: Vec<usize>,
}

impl Desk<'_> {
    /// Length that a bar has for pieces that each bring their own kerf.
    fn room(&self, stock: usize) -> u64 {
        self.stocks
            .get(stock)
            .map_or(0, |stock| stock.length.saturating_add(self.kerf))
    }

    fn need(&self, piece: usize) -> u64 {
        self.pieces
            .get(piece)
            .map_or(0, |length| length.saturating_add(self.kerf))
    }

    fn plan(&self, choice: Choice) -> Plan {
        let mut left: Vec<Option<u64>> = self.stocks.iter().map(|stock| stock.count).collect();
        let mut open: Vec<Open> = Vec::new();
        let mut unplaced = Vec::new();
        for &piece in self.order {
            let need = self.need(piece);
            let fits = open.iter_mut().find(|bar| {
                bar.used
                    .checked_add(need)
                    .is_some_and(|used| used <= self.room(bar.stock))
            });
            if let Some(bar) = fits {
                bar.used += need;
                bar.pieces.push(piece);
                continue;
            }
            match self.new_bar(need, &left, choice) {
                Some(stock) => {
                    take(&mut left, stock);
                    open.push(Open {
                        stock,
                        used: need,
                        pieces: vec![piece],
                    });
                }
                None => unplaced.push(piece),
            }
        }
        self.exchange(&mut open, &mut left);
        let price = |stock: usize| self.stocks.get(stock).map_or(0, |stock| stock.price);
        Plan {
            cost: open.iter().map(|bar| price(bar.stock)).sum(),
            bars: open
                .into_iter()
                .map(|bar| Bar {
                    stock: bar.stock,
                    pieces: bar.pieces,
                })
                .collect(),
            unplaced,
            bound: 0,
        }
    }

    fn new_bar(&self, need: u64, left: &[Option<u64>], choice: Choice) -> Option<usize> {
        let free = |stock: usize| left.get(stock).is_some_and(|left| *left != Some(0));
        let candidates: Vec<(usize, &Stock)> = self
            .stocks
            .iter()
            .enumerate()
            .filter(|(place, _)| free(*place) && need <= self.room(*place))
            .collect();
        let on_hand = candidates
            .iter()
            .filter(|(_, stock)| stock.price == 0)
            .min_by_key(|(place, stock)| (stock.length, *place));
        if let Some((place, _)) = on_hand {
            return Some(*place);
        }
        candidates
            .into_iter()
            .min_by(|(a_place, a), (b_place, b)| {
                let by_choice = match choice {
                    Choice::CheapestForLength => {
                        let left = u128::from(a.price) * u128::from(b.length);
                        left.cmp(&(u128::from(b.price) * u128::from(a.length)))
                    }
                    Choice::Longest => b.length.cmp(&a.length),
                    Choice::Cheapest => a.price.cmp(&b.price),
                };
                by_choice
                    .then(a.price.cmp(&b.price))
                    .then(a_place.cmp(b_place))
            })
            .map(|(place, _)| place)
    }

    /// Each bar becomes the cheapest that is to be had and still holds its pieces.
    fn exchange(&self, open: &mut [Open], left: &mut [Option<u64>]) {
        for bar in open {
            let now = self.stocks.get(bar.stock).map_or(0, |stock| stock.price);
            let cheaper = self
                .stocks
                .iter()
                .enumerate()
                .filter(|(place, stock)| {
                    stock.price < now
                        && bar.used <= self.room(*place)
                        && left.get(*place).is_some_and(|left| *left != Some(0))
                })
                .min_by_key(|(place, stock)| (stock.price, stock.length, *place));
            if let Some((place, _)) = cheaper {
                if let Some(Some(back)) = left.get_mut(bar.stock) {
                    *back += 1;
                }
                take(left, place);
                bar.stock = place;
            }
        }
    }
}

fn take(left: &mut [Option<u64>], stock: usize) {
    if let Some(Some(count)) = left.get_mut(stock) {
        *count = count.saturating_sub(1);
    }
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
    fn pieces_that_fill_a_bar_with_their_cuts_share_it() {
        // 60 + 2 + 58 = 120: one cut between two pieces.
        let plan = pack(&[bought(120, 5)], &[60, 58], 2);
        assert_eq!((plan.cost, plan.bars.len()), (5, 1));
        assert!(plan.proven());
        // One unit more and they need two.
        let plan = pack(&[bought(120, 5)], &[60, 59], 2);
        assert_eq!(plan.cost, 10);
    }

    #[test]
    fn what_lies_on_hand_goes_first_and_no_more_of_it_than_there_is() {
        let leftover = Stock {
            length: 84,
            price: 0,
            count: Some(1),
        };
        let plan = pack(&[bought(120, 680), leftover], &[80, 80], 2);
        assert_eq!(plan.cost, 680);
        let stocks: Vec<usize> = plan.bars.iter().map(|bar| bar.stock).collect();
        assert_eq!(stocks, [1, 0]);
    }

    #[test]
    fn a_piece_that_no_stock_holds_is_said() {
        let plan = pack(&[bought(100, 1)], &[101, 100], 0);
        assert_eq!(plan.unplaced, [0]);
        assert!(!plan.proven());
        assert_eq!(pack(&[], &[1], 0).unplaced, [0]);
    }

    #[test]
    fn first_fit_decreasing_can_miss_the_best_plan_and_does_not_claim_it() {
        // 4+3+3 and 4+3+3 fill two bars of 10; first-fit decreasing puts the two fours together.
        let plan = pack(&[bought(10, 1)], &[4, 4, 3, 3, 3, 3], 0);
        assert_eq!(plan.cost, 3);
        assert_eq!(plan.bound, 2);
        assert!(!plan.proven());
    }
}
