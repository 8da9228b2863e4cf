//! Blocks of print: what each is, and where its lines begin.

/// What a block is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A heading of level 1: centred, a blank line before and after.
    Centred,
    /// A heading of level 2: cell-5, a blank line before, none after.
    Cell5,
    /// A heading of level 3 or deeper: cell-7, a blank line before, none after.
    Cell7,
    /// A paragraph: first line at cell 3, others at cell 1.
    Paragraph,
    /// The rest of a paragraph after a print page break: all lines at cell 1.
    Continued,
    /// An item of a list, its level from 1, and the deepest level of its list.
    Item(u8, u8),
    /// A print page begins; the text is its number.
    PrintPage,
    /// Set in a form of its own: verse, a quotation, a letter and the like.
    Form(Form),
}

impl Kind {
    /// The cell, from 1, where the first line begins, and the others (from memory).
    pub fn margins(self) -> (usize, usize) {
        match self {
            Kind::Paragraph => (3, 1),
            Kind::Cell5 => (5, 5),
            Kind::Cell7 => (7, 7),
            Kind::Item(level, deepest) => (2 * usize::from(level) - 1, 2 * usize::from(deepest) + 1),
            Kind::Form(form) => (form.first.max(1).into(), form.over.max(1).into()),
            Kind::Centred | Kind::Continued | Kind::PrintPage => (1, 1),
        }
    }

    /// Whether it is a heading.
    pub fn is_heading(self) -> bool {
        matches!(self, Kind::Centred | Kind::Cell5 | Kind::Cell7)
    }

    /// Whether it stands in the middle of its lines.
    pub fn is_centred(self) -> bool {
        self == Kind::Centred || matches!(self, Kind::Form(Form { what: What::Break | What::End, .. }))
    }

    /// Whether it goes with the first line of what follows it.
    pub fn keeps_next(self) -> bool {
        self.is_heading() || matches!(self, Kind::Form(Form { what: What::BoxTop | What::NoteLine, .. }))
    }

    /// Whether it has words of print on the pages.
    pub fn has_words(self) -> bool {
        match self {
            Kind::PrintPage => false,
            Kind::Form(form) => form.what.has_words(),
            _ => true,
        }
    }
}

/// A block of print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// What it is.
    pub kind: Kind,
    /// Its print on one line, single spaces; emphasis marks kept.
    pub print: String,
}

/// What is set in a form of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum What {
    /// A line of verse.
    Verse,
    /// A line of verse with its number at the right end; print: the line, a tab, the number.
    Numbered,
    /// A paragraph of a displayed quotation or an epigraph.
    Quotation,
    /// Whom a quotation or an epigraph is from.
    Attribution,
    /// What a person of a play says, the name before it.
    Speech,
    /// A direction of a play that stands by itself.
    Direction,
    /// A line of a letter's heading or address, and its greeting.
    Opening,
    /// A line of a letter's close and signature.
    Closing,
    /// A transcriber's note.
    Note,
    /// A break in context.
    Break,
    /// The line that ends a volume.
    End,
    /// The line over a box.
    BoxTop,
    /// The line below a box.
    BoxBottom,
    /// The line between the text and its notes.
    NoteLine,
    /// A footnote or a note at the end.
    Footnote,
    /// An entry of the contents; print: the words, a tab, the page.
    Entry,
    /// A symbol of the special symbols page; print: its name, a tab, its key in the register.
    Symbol,
    /// Where the contents are put that are made from the headings.
    ContentsHere,
    /// Where the symbols are put that are made from the text.
    SymbolsHere,
    /// Where the notes asked for above are put.
    NotesHere,
    /// A table; print: its rows, a line a row, the columns parted by tabs, the headings first.
    Table,
    /// An item of a list that stands within a displayed quotation.
    Listed,
    /// A further paragraph of a list item, and the rest of anything after a print page break.
    GoesOn,
}

/// How a block is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Form {
    /// What it is.
    pub what: What,
    /// The cell, from 1, where its first line begins.
    pub first: u8,
    /// The cell, from 1, where its other lines begin.
    pub over: u8,
    /// Whether a blank line stands before it.
    pub before: bool,
    /// Whether a blank line stands after it.
    pub after: bool,
}

impl From<Form> for Kind {
    fn from(form: Form) -> Kind {
        Kind::Form(form)
    }
}

impl What {
    /// What it is called in a finding and on the copyholder.
    pub fn name(self) -> &'static str {
        match self {
            What::Verse | What::Numbered => "line of verse",
            What::Quotation => "displayed quotation",
            What::Attribution => "attribution",
            What::Speech => "speech",
            What::Direction => "stage direction",
            What::Opening => "opening of a letter",
            What::Closing => "close of a letter",
            What::Note => "transcriber’s note",
            What::Break => "break in context",
            What::End => "end of the volume",
            What::BoxTop => "line over the box",
            What::BoxBottom => "line below the box",
            What::NoteLine => "line before the notes",
            What::Footnote => "note",
            What::Entry => "line of the contents",
            What::Symbol => "special symbol",
            What::ContentsHere => "contents",
            What::SymbolsHere => "special symbols",
            What::NotesHere => "notes",
            What::Table => "table",
            What::Listed => "list item",
            What::GoesOn => "paragraph that goes on",
        }
    }

    /// Whether print has words for it.
    pub fn has_words(self) -> bool {
        let lines = matches!(self, What::BoxTop | What::BoxBottom | What::NoteLine);
        !lines && !matches!(self, What::ContentsHere | What::SymbolsHere | What::NotesHere)
    }

    /// Where its lines begin, the first and the others; of verse and entries those without levels.
    fn margins(self) -> (u8, u8) {
        match self {
            What::Verse | What::Numbered | What::Entry | What::Listed => (1, 3),
            What::Speech | What::Opening | What::Footnote | What::Symbol => (1, 3),
            What::Quotation => (5, 3),
            What::Attribution | What::Direction => (7, 7),
            What::Closing => (5, 7),
            What::Note => (7, 5),
            What::GoesOn | What::Break | What::End => (1, 1),
            What::BoxTop | What::BoxBottom | What::NoteLine | What::Table => (1, 1),
            What::ContentsHere | What::SymbolsHere | What::NotesHere => (1, 1),
        }
    }

    /// Its form, without blank lines around it.
    pub fn form(self) -> Form {
        let (first, over) = self.margins();
        let apart = matches!(self, What::Break | What::Table | What::End);
        let (before, after) = (apart || self == What::BoxTop, apart || self == What::BoxBottom);
        Form { what: self, first, over, before, after }
    }

    /// A block in its form.
    pub fn block(self, print: impl Into<String>) -> Block {
        Block { kind: Kind::Form(self.form()), print: print.into() }
    }

    /// A block of a level, from 1, where the deepest one is known: a list's margins (1-5 and 3-5 of two levels).
    pub fn levelled(self, level: usize, deepest: usize, print: impl Into<String>) -> Block {
        let cell = |cell: usize| u8::try_from(cell).unwrap_or(u8::MAX);
        let form = Form { first: cell(2 * level - 1), over: cell(2 * deepest + 1), ..self.form() };
        Block { kind: Kind::Form(form), print: print.into() }
    }
}

/// Words with one space between them; spaces that do not part words (a digit separator, U+00A0 or U+2009) stay.
pub(super) fn words(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    push_words(&mut out, text);
    out
}

pub(super) fn push_words(out: &mut String, words: &str) {
    for (place, word) in words.split_ascii_whitespace().enumerate() {
        if place > 0 {
            out.push(' ');
        }
        out.push_str(word);
    }
}

/// Gives every item the deepest level of its list.
pub(super) fn deepen(blocks: &mut [Block]) {
    let mut from = 0;
    while from < blocks.len() {
        // A print page that begins does not end the list.
        let of_list = |block: &&Block| matches!(block.kind, Kind::Item(..) | Kind::PrintPage);
        let run = blocks[from..].iter().take_while(of_list).count();
        let list = &mut blocks[from..from + run];
        let deep =
            list.iter().map(|block| if let Kind::Item(level, _) = block.kind { level } else { 1 }).max();
        for block in list {
            if let Kind::Item(_, deepest) = &mut block.kind {
                *deepest = deep.unwrap_or(1);
            }
        }
        from += run.max(1);
    }
}
