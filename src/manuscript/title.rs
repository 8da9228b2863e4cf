//! The title page: its parts from the fields, and its volume and page lines computed from the pages (from memory).

use crate::cell::Cell;

use super::head::centred;
use super::set::{Set, Spot};
use super::source::{Block, Front, Kind};
use super::{GAP, Sheet, number};

/// How the line of the braille pages begins.
pub(super) const BRAILLE_PAGES: &str = "Braille pages";

/// The page's parts, each with its lines of print; `labels` are the braille page numbers after the title page, `print`
/// those of the print pages. Empty without a title.
pub fn parts(front: &Front, labels: &[&str], print: &[&str]) -> Vec<Vec<String>> {
    if front.title.is_empty() {
        return Vec::new();
    }
    let given = |fields: &[&String]| -> Vec<String> {
        fields.iter().filter(|words| !words.is_empty()).map(|words| (*words).clone()).collect()
    };
    let volumes = if front.volumes.is_empty() { "1" } else { &front.volumes };
    let mut which = if volumes == "1" {
        vec!["In 1 Volume".to_owned()]
    } else {
        let volume = if front.volume.is_empty() { "1" } else { &front.volume };
        vec![format!("In {volumes} Volumes"), format!("Volume {volume}")]
    };
    let labels = std::iter::once("t1").chain(labels.iter().copied());
    which.push(format!(
        "{BRAILLE_PAGES} {}",
        ranges(labels, |label| number::parts(label).map(|parts| parts.0))
    ));
    let print: Vec<&str> = print.iter().copied().filter(|page| *page != number::MADE).collect();
    let of_print = ranges(print.iter().copied(), |page| Some(number::is_front(page)));
    match print[..] {
        [] => {}
        [_] => which.push(format!("Print page {of_print}")),
        _ => which.push(format!("Print pages {of_print}")),
    }
    let by = if front.author.is_empty() { Vec::new() } else { vec![format!("by {}", front.author)] };
    let series = given(&[&front.series]);
    let published = given(&[&front.publisher, &front.copyright]);
    let transcribed = given(&[&front.transcriber, &front.year]);
    let all = [vec![front.title.clone()], series, by, published, transcribed, which];
    all.into_iter().filter(|part| !part.is_empty()).collect()
}

/// Pages as ranges, one for each run of the same kind: "t1-t2, p1 and 1-20". A page without a kind is left out.
fn ranges<'a, K: PartialEq>(
    pages: impl Iterator<Item = &'a str>,
    kind: impl Fn(&str) -> Option<K>,
) -> String {
    let mut runs: Vec<(K, &str, &str)> = Vec::new();
    for page in pages {
        let Some(kind) = kind(page) else { continue };
        match runs.last_mut() {
            Some((before, _, last)) if *before == kind => *last = page,
            _ => runs.push((kind, page, page)),
        }
    }
    let words: Vec<String> = runs
        .iter()
        .map(|(_, first, last)| if first == last { (*first).to_owned() } else { format!("{first}-{last}") })
        .collect();
    match words.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => words.concat(),
    }
}

/// The page's braille: each line centred, with a blank line between its parts while there is room.
pub(super) fn page(parts: &[Vec<String>], sheet: Sheet) -> Vec<Vec<Cell>> {
    let mut page: Vec<Vec<Cell>> = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        if at > 0 && page.len() + 2 < sheet.lines {
            page.push(Vec::new());
        }
        for words in part {
            let set = Set::new(Block { kind: Kind::Centred, print: words.clone() }, sheet);
            line(&set.at_spaces(), sheet, &mut page);
        }
    }
    page
}

/// The page's braille, its lines given.
pub(super) fn given(lines: &[Vec<Cell>], sheet: Sheet) -> Vec<Vec<Cell>> {
    let mut page: Vec<Vec<Cell>> = Vec::new();
    for cells in lines {
        if cells.is_empty() && page.len() + 1 < sheet.lines {
            page.push(Vec::new());
        }
        line(&Set::of_braille(Kind::Centred, cells.clone(), sheet).at_spaces(), sheet, &mut page);
    }
    page
}

fn line(set: &Set, sheet: Sheet, page: &mut Vec<Vec<Cell>>) {
    let mut spot = Spot::default();
    while !set.is_done(&spot) && page.len() + 1 < sheet.lines {
        let cut = set.line(&spot, sheet.cells.saturating_sub(2 * GAP), false);
        page.push(centred(&cut.cells, sheet.cells, sheet.cells));
        spot = cut.next;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // North American title pages (from memory).
    #[test]
    fn volumes_are_counted_and_numbered() {
        let volumes = |volumes: &str, volume: &str| {
            let front = Front {
                title: "The Skerry Line".into(),
                volumes: volumes.into(),
                volume: volume.into(),
                ..Front::default()
            };
            parts(&front, &["1", "2"], &[])[1..].concat()
        };
        let pages = "Braille pages t1 and 1-2";
        assert_eq!(volumes("", ""), ["In 1 Volume", pages]);
        assert_eq!(volumes("3", ""), ["In 3 Volumes", "Volume 1", pages]);
        assert_eq!(volumes("3", "2"), ["In 3 Volumes", "Volume 2", pages]);
    }

    // Front matter and body are ranges of their own, in braille and in print (from memory).
    #[test]
    fn pages_are_told_as_ranges() {
        let front = Front { title: "The Skerry Line".into(), ..Front::default() };
        let of = |labels: &[&str], print: &[&str]| parts(&front, labels, print)[1][1..].to_vec();
        assert_eq!(
            of(&["t2", "p1", "p2", "1", "2", "3"], &["t", "iii", "iv", "1", "2"]),
            ["Braille pages t1-t2, p1-p2 and 1-3", "Print pages iii-iv and 1-2"]
        );
        assert_eq!(of(&["1"], &["7"]), ["Braille pages t1 and 1", "Print page 7"]);
    }

    #[test]
    fn a_blank_line_stands_between_the_parts() {
        let given = ["The Skerry Line", "the crew", "Hallam Quay", "the harbour office"].map(String::from);
        let [title, author, publisher, copyright] = given;
        let front = Front { title, author, publisher, copyright, ..Front::default() };
        let page = page(&parts(&front, &["1"], &[]), Sheet::default());
        let blank: Vec<bool> = page.iter().map(Vec::is_empty).collect();
        assert_eq!(blank, [false, true, false, true, false, false, true, false, false]);
    }
}
