//! Spans of print whose marks are those of HTML: words of another language (13), and small capitals (9.6).

use super::symbols::Symbol;

/// What a span holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Span {
    /// Words of another language: uncontracted (13.2.1).
    Foreign,
    /// Words that the transcriber takes for English (13.2.3).
    English,
    /// Small capitals that stand for emphasis or distinction (9.6.2).
    SmallCapitals,
}

/// The mark that ends a span.
pub(crate) const CLOSING: [char; 7] = ['<', '/', 's', 'p', 'a', 'n', '>'];

/// Characters of the longest mark that begins a span.
const LONGEST: usize = 48;
/// The end of a span is looked for in so many characters.
const REACH: usize = 4096;

/// The span that begins with these characters, if it ends there or in `later`, and the length of its mark.
pub(crate) fn opening(rest: &[char], later: &str) -> Option<(Span, usize)> {
    if rest.first() != Some(&'<') || rest.get(1) != Some(&'s') {
        return None;
    }
    let end = rest.iter().take(LONGEST).position(|c| *c == '>')?;
    let tag: String = rest[..=end].iter().collect();
    let span = named(&tag)?;
    let here = &rest[end..rest.len().min(end + REACH)];
    let closes = here.windows(CLOSING.len()).any(|run| run == CLOSING) || closes_in(later);
    closes.then_some((span, end + 1))
}

/// What the mark that begins a span says of it.
pub(crate) fn named(tag: &str) -> Option<Span> {
    if tag.chars().count() > LONGEST {
        return None;
    }
    let (name, value) = tag.strip_prefix("<span ")?.strip_suffix('>')?.trim().split_once('=')?;
    let value = ['"', '\''].iter().find_map(|mark| value.strip_prefix(*mark)?.strip_suffix(*mark))?;
    Some(match (name, value) {
        ("class", "small-caps") => Span::SmallCapitals,
        ("lang", "en") => Span::English,
        ("lang", language) if language.starts_with("en-") => Span::English,
        ("lang", language) if language.starts_with(|c: char| c.is_ascii_alphabetic()) => Span::Foreign,
        _ => return None,
    })
}

/// Whether a span that is open ends in this text.
fn closes_in(later: &str) -> bool {
    let end = later.char_indices().nth(REACH).map_or(later.len(), |(at, _)| at);
    let later = &later[..end];
    later.find("</span>").is_some_and(|end| later.find("<span ").is_none_or(|begin| end < begin))
}

/// Marks what stands from this symbol on as foreign.
pub(crate) fn set_foreign(symbols: &mut [Symbol], from: Option<usize>) {
    let own = from.and_then(|from| symbols.get_mut(from..)).unwrap_or_default();
    for symbol in own {
        symbol.foreign = true;
    }
}
