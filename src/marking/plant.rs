//! Mistakes on purpose, with their answer key. The same seed plants the same mistakes.

use super::{Expected, Kind, mark};
use crate::cell::{self, Cell};
use crate::ueb::register::{self, Class};

/// One planted mistake.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planted {
    /// Its kind.
    pub kind: Kind,
    /// The line, from 0.
    pub line: usize,
    /// Its cells in the changed line, half-open; empty where something was taken away.
    pub from: usize,
    /// The place after its last cell.
    pub to: usize,
    /// The cells that were right.
    pub expected: Vec<Cell>,
}

/// A small generator of numbers that look random (SplitMix64, common practice).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    fn chance(&mut self, rate: f64) -> bool {
        (self.next() >> 11) as f64 / ((1u64 << 53) as f64) < rate
    }
}

/// Plants mistakes of `kinds` (all that can be made when empty) in correct braille, about `rate` of them a cell.
/// Every change is marked against the right line and kept only when it is a mistake of the kind meant.
pub fn plant(
    lines: &[Vec<Cell>],
    kinds: &[Kind],
    rate: f64,
    seed: u64,
    contracted: bool,
) -> (Vec<Vec<Cell>>, Vec<Planted>) {
    let mut random = Random(seed);
    let mut key = Vec::new();
    let mut out = Vec::with_capacity(lines.len());
    for (number, line) in lines.iter().enumerate() {
        let asked = Expected::from_key(std::slice::from_ref(line), contracted);
        let mut changed: Vec<Cell> = Vec::with_capacity(line.len());
        // A line whose blanks were tidied has other places: leave it as it is.
        if asked.cells != *line {
            out.push(line.clone());
            continue;
        }
        let mut after = 0;
        for at in 0..line.len() {
            if at < after || !random.chance(rate) {
                if at >= after {
                    changed.push(line[at]);
                }
                continue;
            }
            let mut offers = offers(&asked, at);
            offers.retain(|offer| kinds.is_empty() || kinds.contains(&offer.kind));
            let mut planted = None;
            while planted.is_none() && !offers.is_empty() {
                let total: usize = offers.iter().map(|offer| offer.weight).sum();
                let mut draw = random.below(total);
                let place = offers.iter().position(|offer| {
                    let here = draw < offer.weight;
                    draw = draw.saturating_sub(offer.weight);
                    here
                });
                let offer = offers.swap_remove(place.unwrap_or(0));
                let mut alone = line[..at].to_vec();
                alone.extend_from_slice(&offer.cells);
                alone.extend_from_slice(&line[at + offer.takes..]);
                let found = mark(&asked, &[alone]).findings;
                if matches!(found.as_slice(), [one] if one.kind == offer.kind) {
                    planted = Some(offer);
                }
            }
            let Some(offer) = planted else {
                changed.push(line[at]);
                continue;
            };
            let from = changed.len();
            changed.extend_from_slice(&offer.cells);
            key.push(Planted {
                kind: offer.kind,
                line: number,
                from,
                to: changed.len(),
                expected: line[at..at + offer.takes].to_vec(),
            });
            // One clean cell between two mistakes keeps them apart.
            after = at + offer.takes;
            if offer.takes == 0 {
                changed.push(line[at]);
                after = at + 1;
            }
            if let Some(&next) = line.get(after) {
                changed.push(next);
                after += 1;
            }
        }
        out.push(changed);
    }
    (out, key)
}

struct Offer {
    kind: Kind,
    takes: usize,
    cells: Vec<Cell>,
    weight: usize,
}

/// What could go wrong at this cell, with weights after what learners do (common practice).
fn offers(asked: &Expected, at: usize) -> Vec<Offer> {
    let mut out = Vec::new();
    let cell = asked.cells[at];
    let mut offer = |kind, takes, cells: Vec<Cell>, weight| out.push(Offer { kind, takes, cells, weight });
    if cell.is_blank() {
        offer(Kind::Spacing, 1, vec![], 2);
        offer(Kind::Spacing, 1, vec![Cell::BLANK; 2], 1);
        return out;
    }
    offer(Kind::Mirrored, 1, vec![cell.mirror()], 8);
    for rows in [1, -1] {
        offer(Kind::Shifted, 1, cell.shifted(rows).into_iter().collect(), 2);
    }
    for (dot, weight) in [(6, 4), (3, 4), (1, 1), (2, 1), (4, 1), (5, 1)] {
        let slipped = Cell::from_bits(cell.bits() ^ 1 << (dot - 1)).unwrap_or(cell);
        if !slipped.is_blank() {
            offer(Kind::DotSlip, 1, vec![slipped], weight);
        }
    }
    let Some(unit) = asked.unit_at(at).map(|unit| &asked.units[unit]) else { return out };
    let Some(sign) = unit.sign.map(register::get).filter(|_| unit.cells.start == at) else { return out };
    let takes = unit.cells.len();
    match sign.class {
        Class::Indicator | Class::Terminator => offer(Kind::MissingIndicator, takes, vec![], 14),
        class if class.is_contraction() => {
            let letters: Vec<Cell> = sign.print.chars().filter_map(Cell::from_ascii).collect();
            offer(Kind::MissedContraction, takes, letters, 12);
        }
        _ => {}
    }
    if takes > 1 && cell.is_prefix() && !matches!(sign.class, Class::Indicator | Class::Terminator) {
        offer(Kind::LostPrefix, 1, vec![], 8);
    }
    if matches!(sign.class, Class::Letter | Class::Symbol) {
        offer(Kind::LeftOut, takes, vec![], 1);
        let double: Vec<Cell> = [sign.cells.as_slice(), sign.cells.as_slice()].concat();
        offer(Kind::Added, takes, double, 1);
    }
    if sign.class == Class::Letter && (at == 0 || asked.cells[at - 1].is_blank()) {
        let mut capital = cell::from_ascii(",").unwrap_or_default();
        capital.push(cell);
        offer(Kind::ExtraIndicator, 1, capital, 2);
    }
    out
}
