//! The title page: its parts from the fields, and its volume and page lines computed from the pages (from memory).

use crate::cell::Cell;

use super::fill::centred;
use super::set::{Set, Spot};
use super::source::{Block, Front, Kind};
use super::{GAP, Sheet, number};

/// The first and last of these labels, "1-20"; `None` when there are none.
fn range<'a>(mut labels: impl DoubleEndedIterator<Item = &'a str>) -> Option<String> {
    let first = labels.next()?;
    Some(labels.next_back().map_or_else(|| first.to_owned(), |last| format!("{first}-{last}")))
}

/// The page's lines of print; `labels` are the braille page numbers after the title page, `print` those of the print
/// pages. Empty without a title.
pub fn lines(front: &Front, labels: &[&str], print: &[&str]) -> Vec<String> {
    if front.title.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![front.title.clone()];
    if !front.author.is_empty() {
        lines.push(format!("by {}", front.author));
    }
    let given = [&front.publisher, &front.copyright, &front.transcriber, &front.year];
    lines.extend(given.into_iter().filter(|words| !words.is_empty()).cloned());
    let volumes = if front.volumes.is_empty() { "1" } else { &front.volumes };
    if volumes == "1" {
        lines.push("In 1 Volume".to_owned());
    } else {
        lines.push(format!("In {volumes} Volumes"));
        lines.push(format!("Volume {}", if front.volume.is_empty() { "1" } else { &front.volume }));
    }
    let of = |letter: Option<char>| {
        range(
            labels
                .iter()
                .copied()
                .filter(move |label| number::parts(label).is_some_and(|(l, _)| l == letter)),
        )
    };
    let made = labels.iter().copied().filter(|label| label.starts_with('t'));
    let ranges: Vec<String> =
        [range(std::iter::once("t1").chain(made)), of(Some('p')), of(None)].into_iter().flatten().collect();
    lines.push(match ranges.split_last() {
        Some((last, before)) if !before.is_empty() => {
            format!("Braille pages {} and {last}", before.join(", "))
        }
        _ => format!("Braille pages {}", ranges.join("")),
    });
    let print: Vec<&str> = print.iter().copied().filter(|page| *page != number::MADE).collect();
    match print[..] {
        [] => {}
        [one] => lines.push(format!("Print page {one}")),
        [first, .., last] => lines.push(format!("Print pages {first}-{last}")),
    }
    lines
}

/// The page's braille: each line centred, with a blank line between them while there is room.
pub(super) fn page(lines: &[String], sheet: Sheet) -> Vec<Vec<Cell>> {
    let mut page: Vec<Vec<Cell>> = Vec::new();
    for (at, words) in lines.iter().enumerate() {
        let set = Set::new(Block { kind: Kind::Centred, print: words.clone() }, sheet);
        if at > 0 && page.len() + 2 < sheet.lines {
            page.push(Vec::new());
        }
        let mut spot = Spot::default();
        while !set.is_done(&spot) && page.len() + 1 < sheet.lines {
            let cut = set.line(&spot, sheet.cells.saturating_sub(2 * GAP), false);
            page.push(centred(&cut.cells, sheet.cells));
            spot = cut.next;
        }
    }
    page
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
            lines(&front, &["1", "2"], &[])[1..].to_vec()
        };
        let pages = "Braille pages t1 and 1-2";
        assert_eq!(volumes("", ""), ["In 1 Volume", pages]);
        assert_eq!(volumes("3", ""), ["In 3 Volumes", "Volume 1", pages]);
        assert_eq!(volumes("3", "2"), ["In 3 Volumes", "Volume 2", pages]);
    }
}
