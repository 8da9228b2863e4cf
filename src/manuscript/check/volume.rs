//! What a whole volume needs: its title page, true to the pages, the print copy in front of it, and a special symbols
//! page where one is called for (from memory).

use crate::cell::Cell;
use crate::manuscript::set::options;
use crate::manuscript::work::{end, label};
use crate::manuscript::{number, source};
use crate::ueb;

use super::{Asked, Findings, Outcome};

pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    print_copy(asked, out);
    let Some(title) = pages.first().filter(|page| label(page).as_deref() == Some("t1")) else {
        out.fix("title-page", 0, 0, "The first page is to be the title page, numbered t1.");
        return;
    };
    if title.iter().filter(|line| end(line) > 0).count() < 4 {
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
    for kind in [Some('t'), Some('p'), None] {
        let mut of_kind =
            labels.iter().filter(|label| number::parts(label).is_some_and(|parts| parts.0 == kind));
        let Some(from) = of_kind.next() else { continue };
        let range = of_kind.next_back().map_or_else(|| from.clone(), |to| format!("{from}-{to}"));
        let cells = number::cells(&range);
        let comma = ueb::register::by_key("comma").map(|sign| sign.cells.as_slice()).unwrap_or_default();
        if !words.iter().any(|word| *word == cells || word.strip_suffix(comma) == Some(&cells)) {
            out.fix("title-page", 0, 0, format!("The title page does not name the braille pages {range}."));
        }
    }
    // With the print at hand: every part that its fields give.
    let front = asked.print.map(|print| source::read(print).0).unwrap_or_default();
    let parts = [
        ("title", &front.title),
        ("author", &front.author),
        ("publisher", &front.publisher),
        ("copyright line", &front.copyright),
        ("transcriber", &front.transcriber),
        ("year", &front.year),
    ];
    for (name, print) in parts.into_iter().filter(|(_, print)| !print.is_empty()) {
        let cells = ueb::transcribe(print, &options(asked.sheet));
        let part: Vec<&[Cell]> =
            cells.split(|cell| cell.is_blank()).filter(|word| !word.is_empty()).collect();
        if !part.is_empty() && !words.windows(part.len()).any(|run| run == part) {
            out.fix("title-page", 0, 0, format!("The title page does not have the {name}: {print}"));
        }
    }
}

fn print_copy(asked: &Asked, out: &mut Findings) {
    if !asked.print_copy {
        let say = "Does the print copy of the title page lie in front of it? It is what most people forget.";
        out.put("title-page-print", Outcome::YourCall, None, say);
    }
}

/// Signs that a reader may not know are listed on a special symbols page, among the pages numbered t.
pub(super) fn symbols(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let read = ueb::ReadOptions { contracted: asked.sheet.contracted, ..ueb::ReadOptions::default() };
    let mut seen = std::collections::HashSet::new();
    for (page, lines) in pages.iter().enumerate() {
        let listed = label(lines).is_some_and(|label| label.starts_with('t'));
        for (at, line) in lines.iter().enumerate() {
            for piece in ueb::read(line, &read).pieces {
                let Some(sign) = piece.sign.map(ueb::register::get) else { continue };
                let unusual =
                    matches!(sign.class, ueb::Class::Modifier | ueb::Class::Greek | ueb::Class::Technical);
                if unusual && seen.insert(sign.key) && !listed {
                    let say =
                        format!("{} stands here first: does it belong on a special symbols page?", sign.name);
                    out.put("special-symbols", Outcome::YourCall, Some((page, at)), say);
                }
            }
        }
    }
}
