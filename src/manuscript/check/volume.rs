//! What a whole volume needs: its title page, true to the pages, the print copy in front of it, and a special symbols
//! page where one is called for (from memory).

use crate::cell::Cell;
use crate::manuscript::head::is_centred;
use crate::manuscript::made::is_special;
use crate::manuscript::set::mention;
use crate::manuscript::work::{end as work_end, indent, label};
use crate::manuscript::{number, source, title};
use crate::ueb;

use super::{Asked, Findings, Outcome, Scope};

pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    print_copy(asked, out);
    let Some(title) = pages.first().filter(|page| label(page).as_deref() == Some("t1")) else {
        out.fix("title-page", 0, 0, "The first page is to be the title page, numbered t1.");
        return;
    };
    if title.iter().filter(|line| work_end(line) > 0).count() < 4 {
        out.fix(
            "title-page",
            0,
            0,
            "The title page is not complete: title, author, publisher, transcriber, volume, pages.",
        );
    }
    let named = title.len().checked_sub(1).map(|last| &title[..last]).unwrap_or_default();
    let words: Vec<&[Cell]> = named
        .iter()
        .flat_map(|line| line.split(|cell| cell.is_blank()))
        .filter(|word| !word.is_empty())
        .collect();
    let labels: Vec<String> = pages.iter().filter_map(|page| label(page)).collect();
    for (_, range) in number::ranges(&labels) {
        let cells = number::cells(&range);
        let comma = ueb::register::by_key("comma").map(|sign| sign.cells.as_slice()).unwrap_or_default();
        if !words.iter().any(|word| *word == cells || word.strip_suffix(comma) == Some(&cells)) {
            out.fix("title-page", 0, 0, format!("The title page does not name the braille pages {range}."));
        }
    }
    // Each line stands in the middle.
    for (at, line) in named.iter().enumerate() {
        let (before, length) = (indent(line), work_end(line));
        if length > 0 && !is_centred(before, length - before, asked.sheet.cells, asked.sheet.cells) {
            out.fix("title-page", 0, at, "This line of the title page is not centred.");
        }
    }
    if let Some(print) = asked.print {
        parts(print, &labels, &words, asked, out);
    }
}

/// With the print at hand: every part that its fields give, in their order, and the volume and the print pages.
fn parts(print: &str, labels: &[String], words: &[&[Cell]], asked: &Asked, out: &mut Findings) {
    let source::Read { front, blocks, .. } = source::read_for(print, asked.sheet);
    let place = |print: &str, from: usize| -> Option<usize> {
        let cells = ueb::transcribe(print, &asked.sheet.options());
        let part: Vec<&[Cell]> =
            cells.split(|cell| cell.is_blank()).filter(|word| !word.is_empty()).collect();
        let run = words.get(from..)?.windows(part.len().max(1)).position(|run| run == part)?;
        Some(from + run)
    };
    let given = [
        ("title", &front.title),
        ("author", &front.author),
        ("publisher", &front.publisher),
        ("copyright line", &front.copyright),
        ("transcriber", &front.transcriber),
        ("year", &front.year),
    ];
    let mut before: Option<(usize, &str)> = None;
    for (name, print) in given.into_iter().filter(|(_, print)| !print.is_empty()) {
        let after = before.map_or(0, |(at, _)| at);
        match (place(print, after), before) {
            (Some(at), _) => before = Some((at, name)),
            (None, Some((_, what))) if place(print, 0).is_some() => {
                out.fix("title-page", 0, 0, format!("On the title page the {name} comes after the {what}."));
            }
            (None, _) => {
                out.fix("title-page", 0, 0, format!("The title page does not have the {name}: {print}"));
            }
        }
    }
    // The words of these lines may differ from house to house.
    let labels: Vec<&str> = labels.iter().map(String::as_str).skip(1).collect();
    let pages: Vec<&str> = blocks
        .iter()
        .filter(|block| block.kind == source::Kind::PrintPage && !block.print.is_empty())
        .map(|block| block.print.as_str())
        .collect();
    for line in title::parts(&front, &labels, &pages).last().into_iter().flatten() {
        if !line.starts_with(title::BRAILLE_PAGES) && place(line, 0).is_none() {
            let say = format!("Does the title page say this in its own words: “{line}”?");
            out.put("title-page", Outcome::YourCall, Some((0, 0)), say);
        }
    }
}

/// Where there is more than one volume, the last page says that this one ends.
pub(super) fn end(front: &source::Front, pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let Some(say) = front.end().filter(|_| asked.scope == Scope::Volume) else { return };
    let cells = ueb::transcribe(&say, &asked.sheet.options());
    let last = pages.len().saturating_sub(1);
    let there = pages.last().is_some_and(|page| {
        page.iter().any(|line| line[indent(line)..work_end(line).max(indent(line))] == cells)
    });
    if !there {
        out.fix("end-of-volume", last, 0, format!("The last page of text ends with “{say}”, in the middle."));
    }
}

/// The rule that the learner alone can answer for.
pub(super) const PRINT_COPY: &str = "title-page-print";

pub(super) fn print_copy(asked: &Asked, out: &mut Findings) {
    if !asked.print_copy {
        let say = "Does the print copy of the title page lie in front of it?";
        out.put(PRINT_COPY, Outcome::YourCall, None, say);
    }
}

/// Signs that a reader may not know are listed on a special symbols page, among the pages numbered t.
pub(super) fn symbols(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let read = ueb::ReadOptions {
        contracted: asked.sheet.contracted,
        edition: asked.sheet.edition,
        ..ueb::ReadOptions::default()
    };
    let mut seen = std::collections::HashSet::new();
    for (page, lines) in pages.iter().enumerate() {
        for line in lines {
            let own = &line[indent(line)..];
            let end = own.iter().position(|cell| cell.is_blank()).unwrap_or(own.len());
            if let Some(symbol) = own[..end].strip_prefix(&mention()[..]) {
                seen.extend(
                    ueb::register::signs().iter().filter(|sign| sign.cells == symbol).map(|sign| sign.key),
                );
            }
        }
        let listed = label(lines).is_some_and(|label| label.starts_with('t'));
        for (at, line) in lines.iter().enumerate() {
            for piece in ueb::read(line, &read).pieces {
                let Some(sign) = piece.sign.map(ueb::register::get) else { continue };
                if is_special(sign) && seen.insert(sign.key) && !listed {
                    let say =
                        format!("{} stands here first: does it belong on a special symbols page?", sign.name);
                    out.put("special-symbols", Outcome::YourCall, Some((page, at)), say);
                }
            }
        }
    }
}
