//! A text of several volumes: each begins with a fenced block `volume`, whose lines `name: words` change fields of the title
//! page, and is laid out by itself, with its own title page, front matter, page numbers and end.

use std::borrow::Cow;

use super::Sheet;
use super::layout::{Forced, Manuscript};
use super::source;
use super::told::Told;
use crate::cell::Cell;

/// The text of a volume.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Volume<'t> {
    /// Its print, with its own fields.
    pub text: Cow<'t, str>,
    /// Lines of it that are made, and the line of the whole text that stands behind them, from 0.
    made: usize,
    from: usize,
}

impl Volume<'_> {
    /// The line of the whole text for one of the volume's, both from 1.
    fn line(&self, line: usize) -> usize {
        if line > self.made { line - self.made + self.from } else { line.min(self.from.max(1)) }
    }
}

/// The volumes of a text; one where no fence begins another.
pub fn split(text: &str) -> Vec<Volume<'_>> {
    let whole = || vec![Volume { text: Cow::Borrowed(text), made: 0, from: 0 }];
    if !text.contains("```volume") {
        return whole();
    }
    let lines: Vec<&str> = text.lines().collect();
    let Some((fields, body)) = front(&lines) else { return whole() };
    // The lines of each fence.
    let mut fences: Vec<(usize, usize)> = Vec::new();
    let mut open: Option<(usize, &str)> = None;
    for (at, line) in lines.iter().enumerate().skip(body) {
        let line = line.trim();
        let ticks = line.len() - line.trim_start_matches('`').len();
        match open {
            None if ticks >= 3 => open = Some((at, line)),
            Some((from, begun)) if ticks >= 3 && line.len() == ticks => {
                if begun == "```volume" {
                    fences.push((from, at));
                }
                open = None;
            }
            _ => {}
        }
    }
    if fences.is_empty() {
        return whole();
    }
    let count = fences.len() + 1;
    let mut out = Vec::with_capacity(count);
    let mut page: Option<&str> = None;
    for volume in 0..count {
        let (from, own) = match volume.checked_sub(1).map(|before| fences[before]) {
            None => (body, &[][..]),
            Some((from, to)) => (to + 1, &lines[from + 1..to]),
        };
        let to = fences.get(volume).map_or(lines.len(), |fence| fence.0);
        let mut front: Vec<String> = Vec::new();
        let name = |line: &str| line.split_once(':').map(|(name, _)| name.trim().to_owned());
        let changed = |line: &str| own.iter().any(|new| name(new).is_some() && name(new) == name(line));
        front.extend(fields.iter().filter(|line| !changed(line)).map(|line| (*line).to_owned()));
        front.extend(own.iter().map(|line| (*line).to_owned()));
        for (field, value) in [("volumes", count), ("volume", volume + 1)] {
            if !front.iter().any(|line| name(line).as_deref() == Some(field)) {
                front.push(format!("{field}: {value}"));
            }
        }
        let mut text = format!("---\n{}\n---\n", front.join("\n"));
        let mut made = front.len() + 2;
        let part = &lines[from.min(to)..to];
        // The print page of the volume before goes on.
        let begins = part.iter().find(|line| !line.trim().is_empty());
        if let Some(page) = page.filter(|_| begins.is_some_and(|line| !line.trim().starts_with('\u{c}'))) {
            text += &format!("{page}\n");
            made += 1;
        }
        for line in part {
            text += line;
            text.push('\n');
        }
        page = part.iter().rfind(|line| line.trim().starts_with('\u{c}')).map(|line| line.trim()).or(page);
        out.push(Volume { text: Cow::Owned(text), made, from });
    }
    out
}

/// The lines of the title page's fields, and the line that follows them.
fn front<'l, 't>(lines: &'l [&'t str]) -> Option<(&'l [&'t str], usize)> {
    if lines.first().map(|line| line.trim_start_matches('\u{feff}')) != Some("---") {
        return Some((&[], 0));
    }
    let end = lines.iter().skip(1).position(|line| line.starts_with("---"))? + 1;
    Some((&lines[1..end], end + 1))
}

/// Laid-out print of one or several volumes.
#[derive(Clone, Debug)]
pub struct Book(Vec<Manuscript>);

impl Book {
    /// Lays out print volume by volume.
    pub fn from_print(text: &str, sheet: Sheet) -> Book {
        Book(split(text).iter().map(|volume| Manuscript::from_print(&volume.text, sheet)).collect())
    }

    /// Volumes that are laid out already, one at least.
    pub(super) fn of(volumes: Vec<Manuscript>) -> Book {
        Book(volumes)
    }

    /// Its volumes, one at least.
    pub fn volumes(&self) -> &[Manuscript] {
        &self.0
    }

    /// The pages of all volumes, title pages among them.
    pub fn lines(&self) -> Vec<Vec<Vec<Cell>>> {
        self.0.iter().flat_map(Manuscript::lines).collect()
    }

    /// Sequences longer than a line, broken by 6.10; pages are counted over all volumes.
    pub fn forced(&self) -> Vec<Forced> {
        let mut before = 0;
        let mut out = Vec::new();
        for volume in &self.0 {
            out.extend(volume.forced().into_iter().map(|one| Forced { page: one.page + before, ..one }));
            before += volume.lines().len();
        }
        out
    }
}

/// All of a text's print that can't be set, with its lines counted over all volumes.
pub fn told(text: &str, sheet: Sheet) -> Vec<Told> {
    let of = |volume: &Volume| -> Vec<Told> {
        let all = source::told(&volume.text, sheet);
        all.into_iter().map(|told| Told { line: volume.line(told.line), ..told }).collect()
    };
    let mut out: Vec<Told> = split(text).iter().flat_map(of).collect();
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    const BOOK: &str = "---\ntitle: The Skerry Line\nauthor: the crew\nyear: 2026\n---\n\u{c}1\n# The Quay\n\nBoats lie here.\n\n\u{c}2\nMore of them.\n\n```volume\nyear: 2027\n```\n\u{c}3\n# The Sea\n\nBoats sail ☃ here.\n";

    // A title page, numbers from 1 and a line at the end for each volume: from memory.
    #[test]
    fn each_volume_is_laid_out_by_itself() {
        let sheet = Sheet { contracted: false, ..Sheet::default() };
        let book = Book::from_print(BOOK, sheet);
        assert_eq!(book.volumes().len(), 2);
        let labels: Vec<Vec<String>> = book
            .volumes()
            .iter()
            .map(|one| one.pages().iter().map(|page| page.label.clone()).collect())
            .collect();
        assert_eq!(labels, [["1"], ["1"]]);
        let second = book.volumes()[1].title_lines();
        for line in ["2027", "In 2 Volumes", "Volume 2", "Print page 3"] {
            assert!(second.contains(&line.to_owned()), "{second:?}");
        }
        let has = |volume: usize, words: &str| {
            let cells = crate::ueb::transcribe(words, &sheet.options());
            let lines = book.volumes()[volume].lines();
            lines.iter().flatten().any(|line| cell::to_ascii(line).trim() == cell::to_ascii(&cells))
        };
        assert!(has(0, "End of Volume 1") && has(1, "The End") && !has(0, "The End"));
        assert_eq!(told(BOOK, sheet).iter().map(|told| told.line).collect::<Vec<_>>(), [20]);
        assert_eq!(split("# One\n\ntext\n").len(), 1);
    }
}
