//! Notes beside the lines of the writing surface: what marking and the check found, each at its line, as a proofreader
//! writes them into the margin.

use crate::cell::Cell;
use crate::manuscript::check::{Item, Outcome};
use crate::marking::Marked;

/// A note beside a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MarginNote {
    /// The line of the surface, from 0.
    pub line: usize,
    /// The cells that stood there when it was written: on other cells it is not shown.
    pub of: Vec<Cell>,
    /// Its number, or the sign of a finding of the check.
    pub mark: String,
    /// The kind of mistake, or the rule.
    pub name: String,
    /// What was meant, where it is a word of print.
    pub meant: String,
    /// Why, in a sentence.
    pub why: String,
    /// The section that holds.
    pub section: String,
}

impl MarginNote {
    /// Its parts in the order they are read, each with its name in the style sheet.
    pub fn parts(&self) -> Vec<(&'static str, String)> {
        let mut parts = vec![("no", self.mark.clone()), ("kind", format!(" {}. ", self.name))];
        if !self.meant.is_empty() {
            parts.push(("serif", format!("In “{}”: ", self.meant)));
        }
        parts.push(("why", self.why.clone()));
        if !self.section.is_empty() {
            parts.push(("note", format!(" Section {}.", self.section)));
        }
        parts
    }

    /// Whether it is about these cells. Blank cells at the end are none.
    pub fn is_about(&self, cells: &[Cell]) -> bool {
        fn dots(cells: &[Cell]) -> &[Cell] {
            let end = cells.iter().rposition(|cell| !cell.is_blank()).map_or(0, |at| at + 1);
            &cells[..end]
        }
        dots(&self.of) == dots(cells)
    }
}

/// The print of a finding with the rest of its words.
fn meant(print: &[char], from: usize, to: usize) -> String {
    let (from, to) = (from.min(print.len()), to.min(print.len()));
    let begins = print[..from].iter().rposition(|c| c.is_whitespace()).map_or(0, |at| at + 1);
    let ends = print[to..].iter().position(|c| c.is_whitespace()).map_or(print.len(), |at| to + at);
    print[begins..ends.max(begins)].iter().collect::<String>().trim().to_owned()
}

/// The notes of what marking found, numbered as the marks on the cells are. `lines` are those of the surface as they were
/// marked.
pub fn of_marking(marked: &Marked, print: &str, lines: &[Vec<Cell>]) -> Vec<MarginNote> {
    let print: Vec<char> = print.chars().collect();
    let note = |(number, finding): (usize, &crate::marking::Finding)| MarginNote {
        line: finding.written.line,
        of: lines.get(finding.written.line).cloned().unwrap_or_default(),
        mark: (number + 1).to_string(),
        name: finding.kind.words().to_owned(),
        meant: meant(&print, finding.print.start, finding.print.end),
        why: finding.say.clone(),
        section: finding.section.to_owned(),
    };
    marked.findings.iter().enumerate().map(note).collect()
}

/// The notes of what the check found on the pages; `rows` is how many lines of the surface are a page. What marking has
/// told already (`marked`) is not told again.
pub fn of_check(items: &[Item], rows: usize, lines: &[Vec<Cell>], marked: bool) -> Vec<MarginNote> {
    let told = |item: &&Item| item.result != Outcome::Passed && !(marked && item.rule == "print");
    let note = |item: &Item| {
        let line = (item.page?.checked_sub(1)?) * rows + item.line?.checked_sub(1)?;
        let (mark, name) = match item.result {
            Outcome::YourCall => ("?", "your call"),
            _ => ("✗", "to fix"),
        };
        Some(MarginNote {
            line,
            of: lines.get(line).cloned().unwrap_or_default(),
            mark: mark.to_owned(),
            name: format!("{name}, rule {}", item.number),
            meant: String::new(),
            why: item.say.clone(),
            section: String::new(),
        })
    };
    items.iter().filter(told).filter_map(note).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;
    use crate::manuscript::check::{Asked, check};
    use crate::manuscript::file::BrailleFile;
    use crate::manuscript::{Sheet, work};

    const PRINT: &str = "The ferry leaves.\n\nNo dogs swim.\n";

    fn written(lines: &[&str]) -> Vec<Vec<Cell>> {
        lines.iter().map(|line| cell::from_ascii(line).unwrap()).collect()
    }

    // The braille of the signs: sections 10.3 and 4.1 of the standard; 3-1 for paragraphs: from memory.
    #[test]
    fn each_finding_has_its_note_at_its_line() {
        let sheet = Sheet::default();
        let lines = written(&["  ,the f]ry l1ves4", " ,no dogs swim4 "]);
        let work = work::mark(PRINT, &work::pages(&lines, sheet), sheet);
        let print: String = work.expected.print.iter().collect();
        let notes = of_marking(&work.on_lines(sheet), &print, &lines);
        let [note] = &notes[..] else { panic!("{notes:?}") };
        assert_eq!((note.line, &*note.mark, &*note.meant), (0, "1", "The"));
        assert_eq!((&*note.name, &*note.section), ("contraction missed", "10.3.1"));
        assert!(note.is_about(&lines[0]) && !note.is_about(&lines[1]));

        let file = BrailleFile::from_pages(&work::pages(&lines, sheet));
        let items = check(&file, &Asked { print: Some(PRINT), ..Asked::default() });
        let notes = of_check(&items, sheet.lines, &lines, true);
        let told: Vec<(usize, &str)> = notes.iter().map(|note| (note.line, &*note.name)).collect();
        assert!(told.contains(&(1, "to fix, rule 4")) && told.contains(&(1, "to fix, rule 10")), "{told:?}");
        assert!(!told.iter().any(|(_, name)| name.contains("34")));
        assert!(of_check(&items, sheet.lines, &lines, false).iter().any(|note| note.name.contains("34")));
    }

    #[test]
    fn what_the_check_tells_of_the_second_page_stands_there() {
        let sheet = Sheet::default();
        let mut lines = written(&["  a"]);
        lines.resize(sheet.lines, Vec::new());
        lines.extend(written(&["  b #"]));
        let file = BrailleFile::from_pages(&work::pages(&lines, sheet));
        let notes = of_check(&check(&file, &Asked::default()), sheet.lines, &lines, false);
        let note =
            notes.iter().find(|note| note.name.ends_with("rule 11")).expect("a numeric indicator at the end");
        assert_eq!(note.line, sheet.lines);
    }
}
