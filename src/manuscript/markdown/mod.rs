//! Print in Markdown: CommonMark, read by `pulldown-cmark` with its tables, footnotes and heading attributes, and a few
//! fenced blocks of our own.
//!
//! | Markdown | what it becomes |
//! | --- | --- |
//! | `# a`, `## a`, `### a` | a heading: centred, cell-5, cell-7; `{.centred}`, `{.cell-5}`, `{.cell-7}` choose another |
//! | `- a`, `1. a` | a list, nested by its levels |
//! | `> a` | a displayed quotation; a paragraph in it that begins with a dash says whom it is from |
//! | `***` or `---` on a line of its own | a break in context |
//! | a table | columns with guide dots, or a list where it is too wide |
//! | `boat[^1]` and `[^1]: words` | a note, set where its print page ends or the text does |
//! | `_a_`, `__a__`, `*a*`, `**a**`, `<u>a</u>` | typeforms |
//! | `<span lang="fr">a</span>` | words of another language, uncontracted; unmarked, the transcriber takes them for English (13.2) |
//! | `<span class="small-caps">a</span>` | small capitals that stand for emphasis (9.6.2); those of abbreviations are typed as capitals |
//!
//! | fence | what stands in it |
//! | --- | --- |
//! | `verse` | a line of verse a line, two blanks more for each level, an empty line between stanzas; behind two blanks at the end of a line its number |
//! | `play` | `Name: words` or `NAME. words` a speech, a line in brackets a stage direction; a line that begins with blanks goes on |
//! | `letter` | lines that begin with `heading:`, `address:`, `greeting:`, `closing:`, `signature:`; what is between are paragraphs |
//! | `epigraph` | paragraphs, and behind a dash whom they are from |
//! | `note` | a transcriber's note |
//! | `box` | any blocks, in a box |
//! | `contents` | `words ... page` a line, two blanks more for each level; empty: made from the headings that follow |
//! | `symbols` | empty: the special symbols that the text uses |
//! | `notes` | empty: the notes asked for above stand here, not where their print page ends |
//! | `volume` | fields of the title page: another volume begins (see [`super::volumes`]) |
//!
//! What is left, pictures, HTML and code for example, is told with its line, and its words are kept.

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, Options, Parser, Tag, TagEnd};

use super::Sheet;
use super::block::{Block, Form, Kind, What, deepen, words};
use super::forms;
use super::told::Told;

mod breaks;
mod fences;
mod inline;
mod letter;
mod notes;
mod play;
mod table;
mod verse;

use inline::Inline;

/// Boxes stand in boxes no deeper than this.
const DEEPEST: usize = 4;

/// Blocks and what can't be set, or nothing where the text has no more than the block marks that
/// [`super::source`] reads by itself.
pub fn read(text: &str, sheet: Sheet) -> Option<(Vec<Block>, Vec<Told>)> {
    let (source, lines) = breaks::mark(text);
    let mut reader = Reader::new(&source, sheet, 0);
    reader.walk();
    if !reader.beyond {
        return None;
    }
    let (blocks, told) = reader.done();
    let line = |at: usize| lines.get(at).copied().unwrap_or(lines.len());
    Some((blocks, told.into_iter().map(|told| Told { line: line(told.line - 1), ..told }).collect()))
}

fn options() -> Options {
    Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_HEADING_ATTRIBUTES
}

/// A list item that is open.
struct Item {
    /// Its number as print has it.
    mark: String,
    /// Whether its first paragraph is still to come.
    fresh: bool,
}

struct Reader<'s> {
    source: &'s str,
    sheet: Sheet,
    depth: usize,
    out: Vec<Block>,
    told: Vec<(usize, &'static str, String)>,
    /// Whether the text uses what [`super::source`] has no mark for.
    beyond: bool,
    inline: Inline,
    items: Vec<Item>,
    /// Where displayed quotations begin among the blocks.
    quotes: Vec<usize>,
    notes: notes::Notes,
    /// The blocks outside a note that is being read.
    outside: Vec<Vec<Block>>,
    table: Vec<Vec<String>>,
    heading: Kind,
    fence: Option<(String, usize, String)>,
    html: Option<(usize, String)>,
}

impl<'s> Reader<'s> {
    fn new(source: &'s str, sheet: Sheet, depth: usize) -> Reader<'s> {
        Reader {
            source,
            sheet,
            depth,
            out: Vec::new(),
            told: Vec::new(),
            beyond: false,
            inline: Inline::default(),
            items: Vec::new(),
            quotes: Vec::new(),
            notes: notes::Notes::default(),
            outside: Vec::new(),
            table: Vec::new(),
            heading: Kind::Paragraph,
            fence: None,
            html: None,
        }
    }

    fn tell(&mut self, at: usize, what: &'static str, there: &str) {
        self.beyond = true;
        self.told.push((at, what, there.to_owned()));
    }

    /// The blocks, with their notes in place, and what was told, each with its line.
    fn done(mut self) -> (Vec<Block>, Vec<Told>) {
        for (at, label) in self.notes.unused() {
            self.told.push((at, "nothing in the text asks for this note; it is left out", label));
        }
        for label in self.notes.missing() {
            let mark = format!("[^{label}]");
            let at = self.source.find(&mark).unwrap_or(0);
            self.told.push((at, "no note has this number; only its mark is set", mark));
        }
        deepen(&mut self.out);
        let blocks = self.notes.put(self.out);
        self.told.sort_by_key(|told| told.0);
        let (mut line, mut from) = (1, 0);
        let told = self
            .told
            .into_iter()
            .map(|(at, what, there)| {
                let at = at.clamp(from, self.source.len());
                line += self.source.as_bytes()[from..at].iter().filter(|b| **b == b'\n').count();
                from = at;
                Told::new(line, what, &there)
            })
            .collect();
        (blocks, told)
    }

    fn walk(&mut self) {
        let parser = Parser::new_ext(self.source, options()).into_offset_iter();
        for (event, range) in parser {
            match event {
                Event::Start(tag) => self.start(tag, range),
                Event::End(tag) => self.end(tag),
                Event::Rule => {
                    self.beyond = true;
                    self.close();
                    self.out.push(What::Break.block("* * *"));
                }
                Event::Html(text) => {
                    if let Some((_, all)) = &mut self.html {
                        all.push_str(&text);
                    }
                }
                Event::Text(text) if self.fence.is_some() => {
                    if let Some((_, _, all)) = &mut self.fence {
                        all.push_str(&text);
                    }
                }
                event => self.inline_event(event, range),
            }
        }
        self.close();
    }

    fn start(&mut self, tag: Tag, range: Range<usize>) {
        match tag {
            Tag::Paragraph => self.inline.open(range.start),
            Tag::Heading { level, classes, .. } => {
                self.heading = match level {
                    HeadingLevel::H1 => Kind::Centred,
                    HeadingLevel::H2 => Kind::Cell5,
                    _ => Kind::Cell7,
                };
                let atx = self.source[range.clone()].starts_with('#');
                self.beyond |= !atx || !classes.is_empty();
                for class in classes {
                    match &*class {
                        "centred" | "centered" => self.heading = Kind::Centred,
                        "cell-5" => self.heading = Kind::Cell5,
                        "cell-7" => self.heading = Kind::Cell7,
                        _ => self.tell(range.start, "no heading is set so", &class),
                    }
                }
                self.inline.open(range.start);
            }
            Tag::List(_) => self.close(),
            Tag::Item => {
                self.close();
                let mark: String =
                    self.source[range.start..].chars().take_while(char::is_ascii_digit).collect();
                let after = self.source[range.start + mark.len()..].chars().next();
                let mark =
                    if mark.is_empty() { mark } else { mark + &after.map_or(String::new(), String::from) };
                self.items.push(Item { mark, fresh: true });
                self.inline.open(range.start);
            }
            Tag::BlockQuote(_) => {
                self.beyond = true;
                self.close();
                self.quotes.push(self.out.len());
            }
            Tag::CodeBlock(CodeBlockKind::Fenced(name)) => {
                self.beyond = true;
                self.close();
                let inside =
                    self.source[range.start..].find('\n').map_or(range.end, |at| range.start + at + 1);
                self.fence = Some((name.trim().to_ascii_lowercase(), inside, String::new()));
            }
            // Indented text is no code here: print is set as it stands.
            Tag::CodeBlock(CodeBlockKind::Indented) => {
                self.close();
                self.fence = Some(("".into(), range.start, String::new()));
            }
            Tag::HtmlBlock => {
                self.close();
                self.html = Some((range.start, String::new()));
            }
            Tag::FootnoteDefinition(label) => {
                self.beyond = true;
                self.close();
                self.notes.define(&label, range.start);
                self.outside.push(std::mem::take(&mut self.out));
            }
            Tag::Table(_) => {
                self.beyond = true;
                self.close();
                self.table.clear();
            }
            Tag::TableHead | Tag::TableRow => self.table.push(Vec::new()),
            Tag::TableCell => self.inline.open(range.start),
            tag => self.inline.start(&tag, range, self.source, &mut self.told, &mut self.beyond),
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Paragraph => self.close(),
            TagEnd::Heading(_) => {
                let print = self.inline.take();
                let kind = self.heading;
                self.push(kind, &print);
            }
            TagEnd::Item => {
                self.close();
                self.items.pop();
            }
            TagEnd::BlockQuote(_) => {
                self.close();
                if let Some(from) = self.quotes.pop() {
                    deepen(&mut self.out[from..]);
                    fences::attribute(&mut self.out[from..], 3);
                    forms::group(&mut self.out[from..], 2);
                }
            }
            TagEnd::CodeBlock => {
                if let Some((name, at, text)) = self.fence.take() {
                    self.fenced(&name, at, &text);
                }
            }
            TagEnd::HtmlBlock => {
                if let Some((at, text)) = self.html.take() {
                    let comment = text.trim_start().starts_with("<!--") && text.trim_end().ends_with("-->");
                    if !comment {
                        self.tell(at, "HTML has no place on braille pages; it is left out", &text);
                    }
                }
            }
            TagEnd::FootnoteDefinition => {
                self.close();
                let own = std::mem::replace(&mut self.out, self.outside.pop().unwrap_or_default());
                self.notes.end(own);
            }
            TagEnd::TableCell => {
                let print = self.inline.take();
                if let Some(row) = self.table.last_mut() {
                    row.push(words(&print.replace(['\u{fdd2}', '\u{fdd0}', '\u{fdd1}'], " ")));
                }
            }
            TagEnd::Table => {
                let rows = std::mem::take(&mut self.table);
                table::put(rows, self.sheet, &mut self.out);
            }
            tag => self.inline.end(&tag),
        }
    }

    fn inline_event(&mut self, event: Event, range: Range<usize>) {
        if let Event::FootnoteReference(label) = &event {
            self.beyond = true;
            let mark = self.notes.ask(label, self.out.len());
            self.inline.push(&mark);
            return;
        }
        self.inline.event(&event, range, self.source, &mut self.told, &mut self.beyond);
    }

    /// Ends the paragraph, or the first words of an item, that are being read.
    fn close(&mut self) {
        let print = self.inline.take();
        if print.trim().is_empty() {
            return;
        }
        let level = self.items.len();
        let kind = match self.items.last_mut() {
            None => Kind::Paragraph,
            Some(item) if item.fresh => {
                item.fresh = false;
                let mark = if item.mark.is_empty() { String::new() } else { format!("{} ", item.mark) };
                let kind = Kind::Item(level.min(5) as u8, 1);
                return self.push(kind, &format!("{mark}{}", print.trim_start()));
            }
            Some(_) => {
                let over = (2 * level + 1) as u8;
                Kind::Form(Form { first: over, over, ..What::GoesOn.form() })
            }
        };
        self.push(kind, &print);
    }

    /// Puts a block of print that may hold print page breaks and ends of lines.
    fn push(&mut self, kind: Kind, print: &str) {
        breaks::push(&mut self.out, kind, print);
    }

    /// A text of its own within this one: what stands in a box.
    fn within(&mut self, at: usize, text: &str) -> Vec<Block> {
        if self.depth >= DEEPEST {
            self.tell(at, "boxes stand too deep in one another; the words are kept", text);
            return vec![Block { kind: Kind::Paragraph, print: words(text) }];
        }
        let mut reader = Reader::new(text, self.sheet, self.depth + 1);
        reader.walk();
        let told = std::mem::take(&mut reader.told);
        self.told.extend(told.into_iter().map(|(place, what, there)| (at + place, what, there)));
        reader.done().0
    }
}

#[cfg(test)]
mod tests;
