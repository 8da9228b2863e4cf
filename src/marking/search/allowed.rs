//! What may stand though it is not what was asked for: the standard's choices, and forms that print alone does not
//! decide.

use super::{CALL, Grid, Op, PLAIN, QUOTE};
use crate::cell::{self, Cell};
use crate::ueb::register::Class;

impl Grid<'_> {
    /// Forms that print alone does not decide: which quotation marks (7.6), how long a dash (7.2.4).
    pub(super) fn call(&mut self, from: usize, cost: u32, node: usize, w: usize, number: usize) {
        let unit = &self.expected.units[number];
        let print = self.expected.print.get(unit.print.clone()).unwrap_or_default();
        // For a double mark never the sign of a single one, nor the other way round (7.6.2).
        let (others, section): (&[&str], _) = match print {
            ['\''] => (&["8", ",8", "0", ",0", "'"], "7.6"),
            ['‘' | '’'] => (&["8", ",8", "0", ",0"], "7.6"),
            ['“' | '"' | '”'] => (&["8", "^8", "0", "^0"], "7.6"),
            ['—' | '–'] => (&[",-", "\",-"], "7.2.4"),
            _ => return,
        };
        let asked = cell::to_ascii(&self.expected.cells[unit.cells.clone()]);
        let letter = |at: Option<usize>| {
            let print = at.and_then(|at| self.expected.units.get(at)).map(|unit| unit.print.clone());
            print.and_then(|print| self.expected.print.get(print)?.first()).is_some_and(|c| c.is_alphabetic())
        };
        let apostrophe = asked == "'" && letter(number.checked_sub(1)) && letter(Some(number + 1));
        if !others.contains(&asked.as_str()) || apostrophe {
            return;
        }
        // Where quotations stand within others, which marks are the predominant ones is plain (7.6.1, 7.6.2).
        let settled = section == "7.6" && !self.expected.open.quotes && asked != "'";
        for wrong in [",8", ",0", "^8", "^0"] {
            let side = wrong.ends_with('8') == asked.ends_with('8');
            let known = section != "7.6" || !side || others.contains(&wrong);
            if let Some(cells) = cell::from_ascii(wrong).filter(|_| !known)
                && self.written[w..].starts_with(&cells)
            {
                self.reach(from, cost + QUOTE, (self.after(node), w + cells.len(), PLAIN), Op::QuoteWrong);
            }
        }
        for other in others.iter().filter(|other| **other != asked && !(settled && **other != "'")) {
            let either = section != "7.6" || *other == "'" || asked == "'";
            let side = either || other.ends_with('8') == asked.ends_with('8');
            let Some(cells) = cell::from_ascii(other).filter(|_| side) else { continue };
            if self.written[w..].starts_with(&cells) {
                let to = (self.after(node), w + cells.len(), PLAIN);
                // An omission's dash may be long in a text that has short ones too, which a line doesn't show.
                let (more, op) = match section {
                    "7.2.4" if self.omission(number) => (0, Op::Permitted),
                    _ => (CALL, Op::YourCall(section)),
                };
                self.reach(from, cost + more, to, op);
            }
        }
    }

    /// Whether a dash touches a word on one side only.
    pub(super) fn omission(&self, number: usize) -> bool {
        let word = |at: Option<usize>| {
            at.and_then(|at| self.expected.units.get(at))
                .and_then(|unit| unit.class())
                .is_some_and(|class| class == Class::Letter || class.is_contraction())
        };
        word(number.checked_sub(1)) != word(Some(number + 1))
    }

    /// Other cells that the standard allows here.
    pub(super) fn chosen(&mut self, from: usize, cost: u32, w: usize, number: usize) {
        let expected = self.expected;
        let start = expected.cells_of(&(number..number)).start;
        let first = expected.choices.partition_point(|choice| choice.cells.start < start);
        for choice in expected.choices[first..].iter().take_while(|choice| choice.cells.start == start) {
            let past = expected.units.partition_point(|unit| unit.cells.start < choice.cells.end);
            let to = past.max(number);
            if to > self.region.units.end || expected.cells_of(&(to..to)).start != choice.cells.end {
                continue;
            }
            for other in &choice.others {
                let moved = to > number || !other.is_empty();
                if moved && self.written[w..].starts_with(other) {
                    let to = (self.starts[to - self.region.units.start], w + other.len(), PLAIN);
                    // A whole line's typeform may be left out, but not half of it: that is seen later.
                    let (more, op) = match choice.section {
                        "9.1.3" => (CALL, Op::YourCall("9.1.3")),
                        _ => (0, Op::Permitted),
                    };
                    self.reach(from, cost + more, to, op);
                }
            }
        }
    }

    /// Whether a dash or a double hyphen stands before `before` or at `after` and print spaces them now so and now so:
    /// there spacing is free (7.2.1), as it is at a line's end (7.2.2).
    pub(super) fn beside_dash(&self, before: usize, after: usize, line_end: bool) -> bool {
        if !self.expected.open.dashes && !line_end {
            return false;
        }
        let hyphen = |at: usize| {
            let unit = self.expected.units.get(at)?;
            match self.expected.print.get(unit.print.clone())? {
                ['—' | '–'] | ['-', '-'] => Some(2),
                ['-'] => Some(1),
                _ => None,
            }
        };
        let dash = |near: Option<usize>, far: Option<usize>| match near.and_then(hyphen) {
            Some(2) => true,
            Some(_) => far.and_then(hyphen) == Some(1),
            None => false,
        };
        dash(before.checked_sub(1), before.checked_sub(2)) || dash(Some(after), Some(after + 1))
    }

    /// Whether a grade 1 indicator may stand here though nothing needs it, since no contraction occurs in what it
    /// reaches (5.10).
    pub(super) fn grade1_may_stand(&self, node: usize, w: usize, mark: &[Cell]) -> bool {
        let marks = cell::to_ascii(mark);
        let reach = match marks.as_str() {
            ";;" | ";" => marks.len(),
            _ => return false,
        };
        let number = self.nodes[node].unit;
        let begins =
            |at: usize| at == 0 || self.expected.units.get(at - 1).is_some_and(|unit| unit.is_space());
        if !begins(number) || !(w == 0 || self.written[w - 1].is_blank()) {
            return false;
        }
        let word: Vec<Option<Class>> = self.expected.units[number.min(self.expected.units.len())..]
            .iter()
            .take(40)
            .map(|unit| unit.class())
            .take_while(|class| *class != Some(Class::Space))
            .collect();
        let letters = word.iter().filter(|class| **class == Some(Class::Letter)).count();
        let plain = |class: &Option<Class>| matches!(class, Some(Class::Letter | Class::Punctuation));
        // A letter alone, or a whole word.
        word.iter().all(plain) && if reach == 1 { letters == 1 } else { letters > 1 }
    }
}
