//! Print to braille (sections 2 to 11): symbols, then quotation marks, capitals and typeforms, then one
//! symbols-sequence after the other.

pub(crate) mod acronyms;
pub(crate) mod apostrophes;
pub(crate) mod beside;
pub(crate) mod capitals;
pub(crate) mod characters;
pub(crate) mod choices;
pub(crate) mod contractions;
pub(crate) mod dash;
pub(crate) mod faces;
pub(crate) mod grade1;
pub(crate) mod index;
pub(crate) mod known;
pub(crate) mod letters;
pub(crate) mod line;
pub(crate) mod marks;
pub(crate) mod memory;
pub(crate) mod plan;
pub(crate) mod punctuation;
pub(crate) mod quotes;
pub(crate) mod runs;
pub(crate) mod sequence;
pub(crate) mod sink;
pub(crate) mod spans;
pub(crate) mod syllables;
pub(crate) mod symbols;
pub(crate) mod technical;
pub(crate) mod to_symbols;
pub(crate) mod token;
pub(crate) mod wordsigns;
pub(crate) mod write;

use super::Options;
use known::known;
use line::Writer;
use sink::Sink;

/// Transcribes `print` into `sink`. A line end is a blank cell.
pub(crate) fn run<S: Sink>(print: &str, options: &Options, sink: &mut S) {
    run_lines(print, options, sink, |_, _| {});
}

/// The same; `ends` is told of the end of each line, before its blank cell, and the place in the print.
pub(crate) fn run_lines<S: Sink>(
    print: &str,
    options: &Options,
    sink: &mut S,
    mut ends: impl FnMut(&mut S, usize),
) {
    let mut writer = Writer::new(print, options, sink);
    let mut at = 0;
    let mut rest = Some(print);
    while let Some(text) = rest {
        let (line, after) = match text.split_once('\n') {
            Some((line, after)) => (line, Some(after)),
            None => (text, None),
        };
        // A line end of two characters is one line end.
        let (line, end) = match line.strip_suffix('\r') {
            Some(line) if after.is_some() => (line, 2),
            _ => (line, 1),
        };
        writer.later = after.unwrap_or("");
        at += writer.line(line, at);
        ends(writer.sink, at);
        if after.is_some() {
            writer.sink.sign(known().space, at..at + end, "");
            at += end;
        }
        rest = after;
    }
}

#[cfg(test)]
mod tests;
