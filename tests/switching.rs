//! Random networks of wires, contacts, coils and transformers against an evaluation that tries everything: points are
//! compared pair by pair over a matrix of what conducts, from all de-energised on.

use bayrun::physics::switching::{Condition, Contact, Network, Trial};

/// A generator of numbers of this file's own (xorshift), so that every run tries the same networks.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % sides as u64) as usize
    }
}

fn network(dice: &mut Dice) -> Network {
    let points = 4 + dice.roll(12);
    let loads = 1 + dice.roll(4);
    let mut two = {
        let mut dice = Dice(dice.0 | 1);
        move || [dice.roll(points), dice.roll(points)]
    };
    let contacts = (0..1 + dice.roll(7))
        .map(|_| Contact {
            ends: two(),
            closed_when: (0..1 + dice.roll(2))
                .map(|_| match dice.roll(5) {
                    0 => Condition::Input(dice.roll(3), dice.roll(2) == 0),
                    1 => Condition::Joined(two()),
                    _ => Condition::Fed(dice.roll(loads), dice.roll(2) == 0),
                })
                .collect(),
        })
        .collect();
    Network {
        points,
        contacts,
        joins: (0..dice.roll(points)).map(|_| two()).collect(),
        loads: (0..loads).map(|_| two()).collect(),
        sources: (0..1 + dice.roll(2)).map(|_| two()).collect(),
    }
}

/// Which points conduct to which: the wires and closed contacts, and whatever follows from two of them.
fn conducts(net: &Network, closed: &[bool]) -> Vec<Vec<bool>> {
    let mut table = vec![vec![false; net.points]; net.points];
    for n in 0..net.points {
        table[n][n] = true;
    }
    let shut = net.contacts.iter().zip(closed).filter(|(_, c)| **c);
    for [a, b] in net.joins.iter().copied().chain(shut.map(|(c, _)| c.ends)) {
        table[a][b] = true;
        table[b][a] = true;
    }
    for k in 0..net.points {
        for a in 0..net.points {
            for b in 0..net.points {
                table[a][b] |= table[a][k] && table[k][b];
            }
        }
    }
    table
}

/// What loads are fed at rest; none when it never rests.
fn tried(net: &Network, inputs: &[bool], stuck: Option<(usize, bool)>) -> Option<Vec<bool>> {
    let mut fed = vec![false; net.loads.len()];
    // Before the first turn every contact counts as open.
    let mut table = conducts(net, &vec![false; net.contacts.len()]);
    let mut gone = Vec::new();
    loop {
        let mut closed: Vec<bool> = net
            .contacts
            .iter()
            .map(|contact| {
                contact.closed_when.iter().all(|c| match c {
                    Condition::Input(n, up) => inputs[*n] == *up,
                    Condition::Fed(n, is) => fed[*n] == *is,
                    Condition::Joined([a, b]) => table[*a][*b],
                })
            })
            .collect();
        if let Some((n, shut)) = stuck {
            closed[n] = shut;
        }
        if gone.last() == Some(&closed) {
            return Some(fed);
        }
        if gone.contains(&closed) {
            return None;
        }
        table = conducts(net, &closed);
        fed = net
            .loads
            .iter()
            .map(|[a, b]| {
                net.sources.iter().any(|[h, c]| {
                    !table[*h][*c]
                        && (table[*a][*h] && table[*b][*c] || table[*a][*c] && table[*b][*h])
                })
            })
            .collect();
        gone.push(closed);
    }
}

#[test]
fn ten_thousand_random_networks_come_to_the_same_rest() {
    let mut dice = Dice(0x5eed_2026);
    let (mut restless, mut feeding, mut turns) = (0, 0, 0);
    for n in 0..10_000 {
        let net = network(&mut dice);
        let inputs: Vec<bool> = (0..3).map(|_| dice.roll(2) == 0).collect();
        let stuck = (dice.roll(3) == 0).then(|| (dice.roll(net.contacts.len()), dice.roll(2) == 0));
        let list: Vec<(usize, bool)> = stuck.into_iter().collect();
        let rest = net.drawn(None).rest(Trial {
            inputs: &inputs,
            stuck: &list,
        });
        let wanted = tried(&net, &inputs, stuck);
        assert_eq!(
            rest.steady,
            wanted.is_some(),
            "network {n}: {net:?} {inputs:?}"
        );
        if let Some(wanted) = wanted {
            assert_eq!(
                rest.fed, wanted,
                "network {n}: {net:?} {inputs:?} {stuck:?}"
            );
            feeding += usize::from(wanted.contains(&true));
            let still = tried(&net, &[false; 3], None);
            turns += usize::from(still.as_ref() != Some(&wanted));
        } else {
            restless += 1;
        }
    }
    println!("{feeding} fed something, {restless} never rested, {turns} moved by inputs");
    // The networks have to be worth trying: many that feed something, and some that never rest.
    assert!(
        feeding > 1_000 && restless > 100 && turns > 250,
        "{feeding} {restless} {turns}"
    );
}
