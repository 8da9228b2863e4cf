//! What the transcriber makes from the whole text: the contents from its headings, and the special symbols page from the
//! signs that it uses (from memory; see [`super::rules`]).

use super::layout::Manuscript;
use super::source::{self, Read};
use super::{Sheet, whole};

#[cfg(feature = "markdown")]
use super::{
    Profile,
    block::{Block, Form, Kind, What},
    fill::changes,
};

/// A text's blocks, with what is made from the whole text in its place.
pub fn read(text: &str, sheet: Sheet) -> Read {
    let read = source::read_for(text, sheet.bounded());
    #[cfg(feature = "markdown")]
    return made(read, sheet.bounded());
    #[cfg(not(feature = "markdown"))]
    read
}

impl Manuscript {
    /// Lays out print (see [`source`] for its marks).
    pub fn from_print(text: &str, sheet: Sheet) -> Manuscript {
        let sheet = sheet.bounded();
        let Read { front, blocks, .. } = read(text, sheet);
        Manuscript::of(sheet, front, whole::sets(blocks, sheet))
    }
}

/// So many times the pages of the contents are looked up again, since their own lines may move what they name.
#[cfg(feature = "markdown")]
const TIMES: usize = 4;

#[cfg(feature = "markdown")]
fn made(mut read: Read, sheet: Sheet) -> Read {
    let what = |block: &Block| if let Kind::Form(form) = block.kind { Some(form.what) } else { None };
    if read.blocks.iter().any(|block| what(block) == Some(What::SymbolsHere)) {
        let list = symbols(&read.blocks, sheet);
        put(&mut read.blocks, What::SymbolsHere, &list);
    }
    let Some(at) = read.blocks.iter().position(|block| what(block) == Some(What::ContentsHere)) else {
        return read;
    };
    let (entries, headings) = entries(&read.blocks, at, sheet);
    put(&mut read.blocks, What::ContentsHere, &entries);
    // Print tells the pages, or where it has none, the pages as they are laid out.
    let headings: Vec<usize> = headings.into_iter().map(|heading| heading + entries.len() - 1).collect();
    for _ in 0..TIMES {
        let laid = Manuscript::of(sheet, read.front.clone(), whole::sets(read.blocks.clone(), sheet));
        let mut changed = false;
        for (entry, heading) in headings.iter().enumerate() {
            let of_print = print_page(&read.blocks, *heading, sheet);
            let page = of_print.or_else(|| laid.label_of(*heading)).unwrap_or_default();
            let print = &mut read.blocks[at + entry].print;
            let words = print.split('\t').next().unwrap_or_default();
            let new = format!("{words}\t{page}");
            changed |= *print != new;
            *print = new;
        }
        if !changed {
            break;
        }
    }
    read
}

/// Puts blocks in the place of a mark.
#[cfg(feature = "markdown")]
fn put(blocks: &mut Vec<Block>, mark: What, made: &[Block]) {
    let mut out = Vec::with_capacity(blocks.len() + made.len());
    let mut made = Some(made);
    for block in blocks.drain(..) {
        match block.kind {
            Kind::Form(form) if form.what == mark => out.extend_from_slice(made.take().unwrap_or_default()),
            _ => out.push(block),
        }
    }
    *blocks = out;
}

/// The lines of contents that stand at `at`: the headings behind it, and their places.
#[cfg(feature = "markdown")]
fn entries(blocks: &[Block], at: usize, sheet: Sheet) -> (Vec<Block>, Vec<usize>) {
    let level = |kind: Kind| match kind {
        Kind::Centred => Some(1),
        Kind::Cell5 => Some(2),
        Kind::Cell7 => Some(3),
        _ => None,
    };
    // Headings within boxes are none of the text's.
    let mut boxes = 0usize;
    let mut own: Vec<(usize, usize)> = Vec::new();
    for (at, block) in blocks.iter().enumerate().skip(at + 1) {
        match block.kind {
            Kind::Form(Form { what: What::BoxTop, .. }) => boxes += 1,
            Kind::Form(Form { what: What::BoxBottom, .. }) => boxes = boxes.saturating_sub(1),
            kind if boxes == 0 => own.extend(level(kind).map(|level| (at, level))),
            _ => {}
        }
    }
    let least = own.iter().map(|(_, level)| *level).min().unwrap_or(1);
    let deepest = own.iter().map(|(_, level)| *level).max().unwrap_or(1) + 1 - least;
    let entry = |(at, level): &(usize, usize)| {
        let page = print_page(blocks, *at, sheet).unwrap_or_default();
        What::Entry.levelled(level + 1 - least, deepest, format!("{}\t{page}", blocks[*at].print))
    };
    let mut out: Vec<Block> = own.iter().map(entry).collect();
    super::forms::group(&mut out, 0);
    (out, own.into_iter().map(|(at, _)| at).collect())
}

/// The print page on which a block begins, where print pages are shown.
#[cfg(feature = "markdown")]
fn print_page(blocks: &[Block], at: usize, sheet: Sheet) -> Option<String> {
    let page = blocks[..at].iter().rev().find(|block| block.kind == Kind::PrintPage)?;
    (sheet.profile == Profile::Full && changes(&page.print)).then(|| page.print.clone())
}

/// The special symbols of a text, in braille order, an entry each.
#[cfg(feature = "markdown")]
fn symbols(blocks: &[Block], sheet: Sheet) -> Vec<Block> {
    use crate::ueb::{self, register};
    let note = |block: &Block| matches!(block.kind, Kind::Form(Form { what: What::Note, .. }));
    let mut signs: Vec<_> = ueb::explain(&whole::running(blocks), &sheet.options())
        .signs
        .into_iter()
        .map(|used| register::get(used.sign))
        .filter(|sign| is_special(sign))
        .collect();
    if blocks.iter().any(note) {
        let keys = ["opening transcriber's note indicator", "closing transcriber's note indicator"];
        signs.extend(keys.iter().filter_map(|key| register::by_key(key)));
    }
    // The register is in braille order.
    signs.sort_by_key(|sign| sign.id);
    signs.dedup_by_key(|sign| sign.id);
    let mut out: Vec<Block> =
        signs.iter().map(|sign| What::Symbol.block(format!("{}\t{}", sign.name, sign.key))).collect();
    super::forms::group(&mut out, 0);
    out
}

/// Whether a sign is one that a reader may not know (common practice).
pub(super) fn is_special(sign: &crate::ueb::register::Sign) -> bool {
    use crate::ueb::Class;
    matches!(sign.class, Class::Modifier | Class::Greek | Class::Technical)
        || sign.key.contains("transcriber-defined")
}
