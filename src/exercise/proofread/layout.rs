//! Faults of layout, planted in a sheet that is laid out: each with the rule it breaks.

use super::{Mistake, Proof, Right};
use crate::cell::Cell;
use crate::exercise::draw;
use crate::manuscript::rules;
use crate::manuscript::source::Kind as Block;
use crate::marking::Kind;

/// What could be wrong with a line.
#[derive(Clone, Copy)]
struct Fault {
    /// The line of the right sheet, from 0.
    line: usize,
    what: What,
}

#[derive(Clone, Copy)]
enum What {
    /// It begins in another cell.
    Begins { at: usize, rule: &'static str, of: &'static str },
    /// The blank line before it is not there.
    NoBlankBefore,
    /// A blank line stands before it that does not belong there.
    BlankBefore,
}

/// Lines that are looked at as one go on at least one line before the next fault.
const APART: usize = 2;

/// Plants about so many faults in a thousand cells, at places where nothing else is planted. `kinds` are the kinds of the
/// sheet's blocks; lines have `width` cells.
pub(super) fn plant(proof: &mut Proof, kinds: &[Block], rate: u16, seed: u64, width: usize) {
    let mut random = fastrand::Rng::with_seed(seed ^ 0x1a40);
    let mut faults = faults(proof, kinds, width);
    draw::shuffle(&mut random, &mut faults);
    let count = (proof.lines.len() * usize::from(rate)).div_ceil(500).max(1);
    let mut chosen: Vec<Fault> = Vec::new();
    // Where every line has a mistake near by, one fault is planted on a line that has none itself; where each line has one, on
    // one that leaves its own in sight.
    for (apart, count) in [(APART, count), (1, 1), (0, 1)] {
        for fault in &faults {
            let near = |line: usize| line.abs_diff(fault.line) < apart;
            let begins = indent(&proof.lines[fault.line]);
            let first = |mistake: &Mistake| {
                matches!(fault.what, What::Begins { at, .. }
                    if mistake.line == fault.line && mistake.cells.start < begins + usize::from(at == 0))
            };
            let free = !chosen.iter().any(|other| near(other.line))
                && !proof.planted.iter().any(|mistake| near(mistake.line) || first(mistake));
            if free && chosen.len() < count {
                chosen.push(*fault);
            }
        }
    }
    // From the last to the first, so that what comes or goes moves no place that is still to be looked at.
    chosen.sort_by_key(|fault| std::cmp::Reverse(fault.line));
    for fault in chosen {
        put(proof, &fault);
    }
    proof.planted.sort_by_key(|mistake| (mistake.line, mistake.cells.start));
}

fn indent(line: &[Cell]) -> usize {
    line.iter().take_while(|cell| cell.is_blank()).count()
}

/// All that could be wrong with the lines.
fn faults(proof: &Proof, kinds: &[Block], width: usize) -> Vec<Fault> {
    let mut out = Vec::new();
    let block = |line: usize| proof.blocks.get(line).copied().flatten();
    let blank = |line: usize| proof.lines.get(line).is_some_and(|cells| cells.is_empty());
    for (line, cells) in proof.lines.iter().enumerate() {
        let Some(own) = block(line) else { continue };
        let before = line.checked_sub(1).and_then(block);
        let first = before != Some(own);
        let begins = indent(cells);
        let (rule, of) = match kinds.get(own) {
            Some(Block::Paragraph) => ("paragraph", "A paragraph begins in cell 3 and goes on in cell 1"),
            Some(Block::Item(1, 1)) => {
                ("paragraph", "An item of a list begins in cell 1 and goes on in cell 3")
            }
            Some(Block::Centred) => ("heading", "This heading stands in the middle of the line"),
            Some(Block::Cell5) => ("heading", "This heading begins in cell 5"),
            Some(Block::Cell7) => ("heading", "This heading begins in cell 7"),
            _ => continue,
        };
        // Two cells to the left or to the right; a centred heading further, so that it is seen.
        let step = if kinds.get(own) == Some(&Block::Centred) { 4 } else { 2 };
        for at in [begins.checked_sub(step), Some(begins + step)].into_iter().flatten() {
            if cells.len() - begins + at <= width {
                out.push(Fault { line, what: What::Begins { at, rule, of } });
            }
        }
        if first && line > 1 && blank(line - 1) && block(line - 2).is_some() {
            out.push(Fault { line, what: What::NoBlankBefore });
        }
        let plain = |block: Option<usize>| {
            block.and_then(|at| kinds.get(at)).is_some_and(|kind| matches!(kind, Block::Paragraph))
        };
        if first && plain(before) && plain(Some(own)) {
            out.push(Fault { line, what: What::BlankBefore });
        }
    }
    out
}

/// A rule in brackets: its number and where it is from.
fn by(rule: &str) -> String {
    rules::by_key(rule).map_or_else(String::new, |rule| format!("rule {}: {}", rule.number, rule.source))
}

fn put(proof: &mut Proof, fault: &Fault) {
    let line = fault.line;
    let mut mistake = Mistake {
        kind: Kind::Spacing,
        also: Vec::new(),
        line,
        cells: 0..0,
        expected: Vec::new(),
        say: String::new(),
        section: "".into(),
        sign: None,
    };
    match fault.what {
        What::Begins { at, rule, of } => {
            let cells = &mut proof.lines[line];
            let was = indent(cells);
            cells.splice(..was, std::iter::repeat_n(Cell::BLANK, at));
            mistake.say = format!(
                "{of} ({}): this line should begin in cell {}, but begins in cell {}.",
                by(rule),
                was + 1,
                at + 1
            );
            let moved = |place: usize| place - was + at;
            for right in &mut proof.right[line] {
                let Right { cells, .. } = right;
                *cells = moved(cells.start)..moved(cells.end);
            }
            for Mistake { cells, .. } in proof.planted.iter_mut().filter(|other| other.line == line) {
                *cells = moved(cells.start)..moved(cells.end);
            }
            // The blanks, and the first cell where nothing else is wrong with it.
            let taken = proof.planted.iter().any(|other| other.line == line && other.cells.start == at);
            mistake.cells = 0..at + usize::from(!taken);
        }
        What::NoBlankBefore => {
            take(proof, line - 1);
            mistake.line = line - 1;
            mistake.cells = 0..indent(&proof.lines[line - 1]) + 1;
            mistake.say = format!("A blank line belongs before this one ({}).", by("blank-lines"));
        }
        What::BlankBefore => {
            proof.lines.insert(line, Vec::new());
            proof.blocks.insert(line, None);
            proof.right.insert(line, Vec::new());
            move_from(proof, line, 1);
            mistake.cells = 0..0;
            mistake.say = format!("No blank line belongs between two paragraphs ({}).", by("blank-lines"));
        }
    }
    proof.planted.push(mistake);
}

/// Takes a line out.
fn take(proof: &mut Proof, line: usize) {
    proof.lines.remove(line);
    proof.blocks.remove(line);
    proof.right.remove(line);
    move_from(proof, line, -1);
}

fn move_from(proof: &mut Proof, line: usize, by: isize) {
    for mistake in proof.planted.iter_mut().filter(|mistake| mistake.line >= line) {
        mistake.line = mistake.line.saturating_add_signed(by);
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Call, Plants, proof};
    use super::*;
    use crate::manuscript::Sheet;
    use crate::manuscript::check::{Asked, Outcome, check};
    use crate::manuscript::file::BrailleFile;
    use crate::manuscript::layout::Manuscript;

    const TEXT: &str = "# Lost and found\n\nA grey umbrella was handed in, and two left boots as well.\n\nWhoever misses them may ask at the office.\n\n## On board\n\n- one glove, found on the upper deck in the rain\n- a letter to nobody\n\nThe rest is at sea.\n";

    /// What the check tells of a sheet: the rule and the line, from 0.
    fn told(lines: &[Vec<Cell>]) -> Vec<(u8, usize)> {
        let sheet = Sheet { numbered: false, ..Sheet::default() };
        let file = BrailleFile::from_pages(&[lines.to_vec()]);
        let items = check(&file, &Asked { sheet, print: Some(TEXT), ..Asked::default() });
        let fix = items.iter().filter(|item| item.result == Outcome::ToFix);
        fix.map(|item| (item.number, item.line.unwrap_or(0).saturating_sub(1))).collect()
    }

    // The faults are found by the check, which knows nothing of how they are planted. Its rules: Braille Formats 2016,
    // from memory.
    #[test]
    fn each_planted_fault_is_one_for_the_check_and_leads_back() {
        let mut seen = std::collections::BTreeSet::new();
        let mut missed = Vec::new();
        let mut all = 0;
        let clean = Manuscript::from_print(TEXT, Sheet { numbered: false, ..Sheet::default() });
        assert_eq!(told(&clean.lines().concat()), []);
        for seed in 0..60 {
            let plants =
                Plants { kinds: vec![super::super::LAYOUT.into()], rate: 20, seed, ..Plants::default() };
            let sheet = proof(TEXT, true, &plants);
            assert_eq!(sheet, proof(TEXT, true, &plants));
            let [mistake] = &sheet.planted[..] else { panic!("seed {seed}: {:?}", sheet.planted) };
            all += 1;
            let found = told(&sheet.lines);
            if !found.iter().any(|(_, line)| line.abs_diff(mistake.line) <= 1) {
                missed.push(format!("seed {seed}: {} {found:?}", mistake.say));
            }
            seen.insert(mistake.say.split('(').next().unwrap_or_default().to_owned());
            assert!(mistake.say.contains("(rule "), "{}", mistake.say);
            // Called at its first cell it is found, as spacing.
            let call = Call { line: mistake.line, cell: 0, kind: Some(Kind::Spacing) };
            assert_eq!((sheet.score(&[call]).found, sheet.score(&[call]).named), (1, 1));
        }
        assert!(seen.len() >= 6, "{seen:?}");
        assert!(missed.len() * 20 <= all, "{missed:#?}");
    }

    // A short notice, on which a mistake stands near every line: where faults of layout are asked for, there is one.
    #[test]
    fn a_sheet_full_of_mistakes_has_a_fault_of_layout_too() {
        let text = "# Lost and found\n\nA grey umbrella and two left boots were handed in on the Kittiwake. Whoever misses them may ask at the office on Hallam Quay between nine and five.\n\n- One umbrella, said to be from Orrin\n- Two boots\n";
        for seed in 0..300 {
            let plants =
                Plants { rate: 20, seed, layout: true, own: vec!["mirrored".into()], ..Plants::default() };
            let sheet = proof(text, true, &plants);
            assert!(sheet.planted.iter().any(|one| one.say.contains("(rule ")), "seed {seed}");
        }
    }

    #[test]
    fn faults_of_layout_stand_beside_the_others_and_move_none() {
        for seed in 0..40 {
            let plain = Plants { rate: 45, seed, ..Plants::default() };
            let both = proof(TEXT, true, &Plants { layout: true, ..plain.clone() });
            let layout = both.planted.iter().filter(|mistake| mistake.say.contains("(rule ")).count();
            assert_eq!(both.planted.len(), proof(TEXT, true, &plain).planted.len() + layout);
            for mistake in &both.planted {
                let called = both.mistake_at(mistake.line, mistake.cells.start);
                assert_eq!(called.map(|at| &both.planted[at]), Some(mistake), "seed {seed}");
            }
        }
    }
}
