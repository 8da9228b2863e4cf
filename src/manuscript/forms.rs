//! What stands on the pages besides headings, paragraphs and lists, and how each is set: where its lines begin, and where
//! a blank line parts it from what stands around it.
//!
//! The values are common practice unless [`super::rules`] says otherwise.

use super::block::{Block, Form, Kind, What};

/// The kind that goes on with another after a print page break.
pub fn rest_of(kind: Kind) -> Kind {
    match kind {
        Kind::Paragraph | Kind::Continued => Kind::Continued,
        kind => {
            let over = u8::try_from(kind.margins().1).unwrap_or(u8::MAX);
            Kind::Form(Form { first: over, over, ..What::GoesOn.form() })
        }
    }
}

/// Sets blocks apart from what stands around them, and moves them to the right by so many cells.
pub fn group(blocks: &mut [Block], by: u8) {
    let text = |block: &Block| block.kind != Kind::PrintPage;
    let first = blocks.iter().position(text);
    let last = blocks.iter().rposition(text);
    for (at, block) in blocks.iter_mut().enumerate() {
        let moved = |what: What, first: usize, over: usize| {
            let cell = |cell: usize| u8::try_from(cell).unwrap_or(u8::MAX).saturating_add(by);
            Form { first: cell(first), over: cell(over), ..what.form() }
        };
        let mut form = match block.kind {
            Kind::Form(form) if matches!(form.what, What::Table | What::Break) || !form.what.has_words() => {
                form
            }
            Kind::Form(form) => {
                Form { first: form.first.saturating_add(by), over: form.over.saturating_add(by), ..form }
            }
            Kind::Item(..) if by > 0 => moved(What::Listed, block.kind.margins().0, block.kind.margins().1),
            Kind::Paragraph if by > 0 => moved(What::Quotation, 3, 1),
            Kind::Continued if by > 0 => moved(What::GoesOn, 1, 1),
            _ => continue,
        };
        form.before |= Some(at) == first;
        form.after |= Some(at) == last;
        block.kind = Kind::Form(form);
    }
}

/// Whether a blank line stands between a block and the one before it (none at the very beginning), print page breaks
/// aside: around headings, lists and displayed text, never within a box line and its text.
pub fn apart(before: Option<Kind>, kind: Kind) -> bool {
    let what = |kind: Kind| if let Kind::Form(form) = kind { Some(form.what) } else { None };
    let item = |kind: Kind| matches!(kind, Kind::Item(..));
    match (before, kind) {
        (Some(before), _) if what(before) == Some(What::BoxTop) => false,
        (_, kind) if what(kind) == Some(What::BoxBottom) => false,
        (Some(before), _) if matches!(what(before), Some(What::NoteLine)) => false,
        (_, Kind::Centred | Kind::Cell5 | Kind::Cell7) => true,
        (None, _) => false,
        (Some(Kind::Cell5 | Kind::Cell7), Kind::Form(form)) => form.what == What::BoxTop,
        (Some(Kind::Cell5 | Kind::Cell7), _) => false,
        (Some(Kind::Form(old)), Kind::Form(form)) => {
            old.after || form.before || (old.what == What::Table) != (form.what == What::Table)
        }
        (Some(Kind::Form(old)), kind) => {
            old.after || item(kind) && !matches!(old.what, What::GoesOn | What::Listed)
        }
        (Some(old), Kind::Form(form)) => {
            form.before || old == Kind::Centred || item(old) && form.what != What::GoesOn
        }
        (Some(old), kind) => item(old) != item(kind),
    }
}
