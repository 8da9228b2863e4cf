//! The copy on the holder: the print in lines, with the typeforms its marks stand for.

use super::layout::Manuscript;
use super::source::{self, Kind};
use super::{Sheet, volumes};

/// A stretch of print in one typeform.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Run {
    /// The print.
    pub print: String,
    /// Whether it is in italics.
    pub italic: bool,
    /// Whether it is bold.
    pub bold: bool,
    /// Whether it is underlined.
    pub underlined: bool,
}

/// A line of the copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopyLine {
    /// What it is, where a block begins: "heading, centred". Empty where the block goes on.
    pub what: &'static str,
    /// Its print.
    pub runs: Vec<Run>,
}

impl CopyLine {
    /// The print without its typeforms.
    pub fn print(&self) -> String {
        self.runs.iter().map(|run| run.print.as_str()).collect()
    }

    /// The print with its typeforms in words, for who does not see them: "the (italics: Kittiwake, end of italics) leaves".
    pub fn told(&self) -> String {
        let mut told = String::new();
        for run in &self.runs {
            let forms: Vec<&str> =
                [(run.bold, "bold"), (run.italic, "italics"), (run.underlined, "underlined")]
                    .into_iter()
                    .filter_map(|(is, name)| is.then_some(name))
                    .collect();
            let print = run.print.trim();
            if forms.is_empty() || print.is_empty() {
                told.push_str(&run.print);
                continue;
            }
            let forms = forms.join(" and ");
            let begins = run.print.len() - run.print.trim_start().len();
            told.push_str(&run.print[..begins]);
            told.push_str(&format!("({forms}: {print}, end of {forms})"));
            told.push_str(&run.print[begins + print.len()..]);
        }
        told
    }

    /// Whether it is the number of a print page that begins, and no text.
    pub fn is_page_number(&self) -> bool {
        self.what == PRINT_PAGE
    }
}

const PRINT_PAGE: &str = "new print page";

/// The longest line of the copy, in characters, where spaces allow it.
const LONG: usize = 64;

fn what(kind: Kind) -> &'static str {
    match kind {
        Kind::Centred => "heading, centred",
        Kind::Cell5 => "heading, cell 5",
        Kind::Cell7 => "heading, cell 7",
        Kind::Paragraph => "paragraph, 3-1",
        Kind::Continued => "the paragraph goes on",
        Kind::Item(1, 1) => "list, 1-3",
        Kind::Item(..) => "list",
        Kind::PrintPage => PRINT_PAGE,
        Kind::Form(form) => form.what.name(),
    }
}

/// A text's copy, line by line; `title` are the lines of its title page, if it has one.
pub fn lines(text: &str, title: &[String]) -> Vec<CopyLine> {
    let mut out: Vec<CopyLine> = Vec::new();
    for line in title {
        push(&mut out, "title page", line);
    }
    for block in source::read(text).1 {
        if block.kind == Kind::PrintPage {
            let print = if block.print == super::number::MADE { String::new() } else { block.print };
            let run = Run { print, ..Run::default() };
            out.push(CopyLine { what: PRINT_PAGE, runs: vec![run] });
        } else {
            push(&mut out, what(block.kind), &block.print);
        }
    }
    out
}

/// The copy of one or several volumes, each with its title page.
pub fn of_book(print: &str, sheet: Sheet) -> Vec<CopyLine> {
    let volume = |volume: &volumes::Volume| {
        lines(&volume.text, &Manuscript::from_print(&volume.text, sheet).title_lines())
    };
    volumes::split(print).iter().flat_map(volume).collect()
}

fn push(out: &mut Vec<CopyLine>, what: &'static str, print: &str) {
    let mut line: Vec<(char, Run)> = Vec::new();
    let mut what = what;
    let mut flush = |line: &mut Vec<(char, Run)>| {
        let mut runs: Vec<Run> = Vec::new();
        for (c, style) in line.drain(..) {
            match runs.last_mut() {
                Some(run) if Run { print: String::new(), ..run.clone() } == style => run.print.push(c),
                _ => runs.push(Run { print: c.to_string(), ..style }),
            }
        }
        out.push(CopyLine { what: std::mem::take(&mut what), runs });
    };
    for word in styled(print).split_inclusive(|(c, _)| *c == ' ') {
        let length = word.len() - usize::from(word.last().is_some_and(|(c, _)| *c == ' '));
        if !line.is_empty() && line.len() + length > LONG {
            line.pop();
            flush(&mut line);
        }
        line.extend_from_slice(word);
    }
    if !line.is_empty() {
        flush(&mut line);
    }
}

/// The length of the mark of a span, if one stands here; the copy shows its words alone.
fn span(rest: &str) -> Option<usize> {
    let tag = ["<span lang=", "<span class=", "</span>"].iter().find(|tag| rest.starts_with(**tag))?;
    rest.find('>').filter(|end| *end + 1 >= tag.len()).map(|end| end + 1)
}

/// The characters of print, each with the typeform its marks give it.
fn styled(print: &str) -> Vec<(char, Run)> {
    let mut out: Vec<(char, Run)> = Vec::new();
    let mut style = Run::default();
    let mut rest = print;
    while let Some(c) = rest.chars().next() {
        let after = &rest[c.len_utf8()..];
        let opens = |mark: &str, on: bool| {
            let next = rest[mark.len()..].chars().next();
            if on {
                out.last().is_none_or(|(c, _)| *c != ' ')
            } else {
                next.is_some_and(|c| c != ' ') && rest[mark.len()..].contains(mark)
            }
        };
        let (bold, italic) = (style.bold, style.italic);
        if let (true, Some(literal)) = (c == '\\', after.chars().next().filter(char::is_ascii_punctuation)) {
            out.push((literal, style.clone()));
            rest = &after[literal.len_utf8()..];
        } else if rest.starts_with("**") && opens("**", bold) {
            style.bold = !bold;
            rest = &rest[2..];
        } else if c == '*' && !rest.starts_with("**") && opens("*", italic) {
            style.italic = !italic;
            rest = after;
        } else if rest.starts_with("<u>") {
            style.underlined = true;
            rest = &rest[3..];
        } else if let Some(tag) = span(rest) {
            rest = &rest[tag..];
        } else if rest.starts_with("</u>") {
            style.underlined = false;
            rest = &rest[4..];
        } else {
            out.push((c, style.clone()));
            rest = after;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_copy_stands_in_lines_with_its_typeforms() {
        let text = "# The winter timetable\n\nFrom *Monday the* boats of the **Skerry** Line keep these hours. Be on the quay ten minutes before, and mind the step.\n\n- 7:15 Orrin\n";
        let copy = lines(text, &[]);
        let print: Vec<String> = copy.iter().map(CopyLine::print).collect();
        assert_eq!(print[0], "The winter timetable");
        assert!(print[1].starts_with("From Monday the boats of the Skerry Line"));
        assert!(print.iter().all(|line| line.chars().count() <= LONG));
        assert_eq!(copy[0].what, "heading, centred");
        assert_eq!(copy[2].what, "");
        // Typeforms go on over the words of a line, and stars that mark nothing stay.
        assert_eq!(copy[1].runs[1], Run { print: "Monday the".into(), italic: true, ..Run::default() });
        let stars = lines("2 * 3 and \\*this\\*", &[]);
        assert_eq!(stars[0].print(), "2 * 3 and *this*");
    }
}
