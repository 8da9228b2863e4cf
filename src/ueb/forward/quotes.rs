//! Quotation marks, apostrophes and dashes: which sign each takes (7.2 and 7.6).

use super::super::register::SignId;
use super::apostrophes::{self, Role, dropped_g, is_elision, tells_of_letters};
use super::known::known;
use super::symbols::{Kind, Symbol, after_ok, before_ok, edge};

/// What the whole text decides: the predominant quotation marks and whether dashes have two lengths.
#[derive(Clone, Debug, Default)]
pub(crate) struct Habits {
    /// Single quotation marks are the predominant ones (7.6.1).
    pub single: bool,
    /// Italian ones are.
    pub italian: bool,
    /// Print uses a shorter dash too, so that the em dash is the long one (7.2.4).
    pub long_em: bool,
    /// Print uses a shorter dash too, so that two em dashes together, and longer characters, are a long one.
    pub long_row: bool,
    /// Print has dashes of several lengths, and which of them are meant to differ is open.
    pub lengths: bool,
}

impl Habits {
    /// Looks the text over once.
    pub fn of(text: &str) -> Habits {
        let (mut double, mut single, mut italian, mut closing) = (0usize, 0usize, 0usize, 0usize);
        let mut first = ' ';
        let (mut before, mut ems) = (' ', 0);
        let mut outer = None;
        let (mut en, mut spaced_en, mut em, mut row) = (false, false, false, false);
        if text.is_ascii() && !text.contains('"') {
            let single = text.contains('\'');
            return Habits { single, ..Habits::default() };
        }
        for (at, c) in text.char_indices() {
            // A spaced en dash is a dash; an unspaced one mostly stands for "to".
            spaced_en |= before == '–' && c.is_whitespace() || c == '–' && before.is_whitespace();
            row |= matches!(c, '―' | '⸺' | '⸻');
            if c == '—' {
                ems += 1;
            } else if ems > 0 {
                em |= ems == 1;
                row |= ems > 1;
                ems = 0;
            }
            closing += usize::from(c == '”' && outer.is_none());
            match c {
                // Feet and inches.
                '"' if outer.is_none() && before.is_ascii_digit() => {}
                '"' | '“' | '„' | '”' | '‘' | '‚' | '’' | '«' | '»' | '\n' => {
                    let next = text[at + c.len_utf8()..].chars().next();
                    if let Some(mark) = outermost(&mut outer, c, next, text.split_at(at + c.len_utf8())) {
                        match mark {
                            Mark::Double => double += 1,
                            Mark::Single => single += 1,
                            Mark::Italian => italian += 1,
                        }
                    }
                }
                '–' => en = true,
                _ => {}
            }
            before = c;
            if first == ' ' && matches!(c, '"' | '“' | '‘' | '«') {
                first = c;
            }
        }
        em |= ems == 1;
        row |= ems > 1;
        // Quotations of which only the end is in the text.
        if double == 0 && !text.contains('"') {
            double = closing;
        }
        if single > 0 && !closes_single(text) {
            single = 0;
        }
        let straight = single == 0 && !text.contains('‘') && text.contains('\'');
        if straight && double > 0 {
            let (pairs, place) = straight_singles(text);
            single = pairs;
            if place.is_some_and(|place| text.find(['"', '“', '«']).is_none_or(|double| place < double)) {
                first = '‘';
            }
        }
        Habits {
            single: double == 0 && italian == 0 && straight
                || single > double
                || single == double && first == '‘' && single > 0,
            italian: italian > double + single,
            long_em: em && spaced_en,
            long_row: row && (em || en),
            lengths: usize::from(en) + usize::from(em) + usize::from(row) > 1,
        }
    }

    /// Whether these are the predominant quotation marks.
    fn primary(&self, mark: Mark) -> bool {
        match mark {
            Mark::Double => !self.single && !self.italian,
            Mark::Single => self.single,
            Mark::Italian => self.italian,
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Mark {
    Double,
    Single,
    Italian,
}

/// Follows the quotations that stand in no other one, which show the predominant marks (7.6.2): the kind that opens with
/// `c` where none was open. The texts are the one up to it, with it, and the one after it.
fn outermost(
    outer: &mut Option<Mark>,
    c: char,
    next: Option<char>,
    (before, rest): (&str, &str),
) -> Option<Mark> {
    let word = || first_word(rest);
    let opens = match c {
        '"' | '“' | '„' => Mark::Double,
        '‘' | '‚' if !is_elision(word()) || closed_after_stop(rest) || closed_at_once(before, rest) => {
            Mark::Single
        }
        '«' => Mark::Italian,
        '\n' => {
            *outer = None;
            return None;
        }
        _ => {
            let closed = match c {
                '”' => *outer == Some(Mark::Double),
                '’' => *outer == Some(Mark::Single) && !next.is_some_and(char::is_alphanumeric),
                '»' => *outer == Some(Mark::Italian),
                _ => false,
            };
            if closed {
                *outer = None;
            }
            return None;
        }
    };
    match outer {
        None => {
            *outer = Some(opens);
            Some(opens)
        }
        // Straight marks close as they open.
        Some(Mark::Double) if c == '"' => {
            *outer = None;
            None
        }
        _ => None,
    }
}

fn first_word(rest: &str) -> &str {
    rest.split(|c: char| !c.is_alphabetic()).next().unwrap_or("")
}

/// Whether a mark follows straight after the first word, which is spoken of then: the letter ‘t’. An n may stand for "and", and
/// ‘appenin’ has lost letters at both ends.
fn closed_at_once(before: &str, rest: &str) -> bool {
    let word = first_word(rest);
    let mut after = rest[word.len()..].chars();
    let told = || {
        let last = before.trim_end_matches(['‘', '‚']).trim_end();
        tells_of_letters(last.rsplit(|c: char| !c.is_alphabetic()).next().unwrap_or(""))
    };
    (word != "n" || told())
        && !dropped_g(word)
        && matches!(after.next(), Some('’' | '\''))
        && !after.next().is_some_and(char::is_alphanumeric)
}

/// Whether a right mark behind a stop closes what no mark in the line opens: ‘Tis late,’ he said.
fn closed_after_stop(rest: &str) -> bool {
    let mut before = ' ';
    for c in rest.chars().take(600).take_while(|c| !matches!(c, '\n' | '‘' | '‚')) {
        if c == '’' && matches!(before, ',' | '.' | '!' | '?') {
            return true;
        }
        before = c;
    }
    false
}

/// More than this many open quotations are not remembered.
const DEEPEST: usize = 32;

/// Quotation marks that are still open on this line.
#[derive(Default, Debug)]
pub(crate) struct Open {
    /// Each with whether it has the sign of one cell.
    stack: Vec<(Mark, bool)>,
}

impl Open {
    /// Whether a double quotation is open.
    fn pending(&self) -> bool {
        self.stack.iter().any(|open| open.0 == Mark::Double)
    }

    fn begin(&mut self, mark: Mark, nonspecific: bool) {
        if self.stack.len() == DEEPEST {
            self.stack.remove(0);
        }
        self.stack.push((mark, nonspecific));
    }

    /// Ends the innermost quotation of this kind, and all within it; tells whether it has the sign of one cell.
    fn end(&mut self, mark: Mark) -> Option<bool> {
        let place = self.stack.iter().rposition(|open| open.0 == mark)?;
        let nonspecific = self.stack[place].1;
        self.stack.truncate(place);
        Some(nonspecific)
    }
}

/// Settles every quotation mark and dash of `symbols`.
pub(crate) fn settle(symbols: &mut [Symbol], open: &mut Open, habits: &Habits) {
    dashes(symbols, habits);
    let know = known();
    let mut roles = apostrophes::roles(symbols).into_iter().peekable();
    // Whether nothing but what 2.6.2 allows stands before, up to the last space, hyphen or dash.
    let mut leads = true;
    for i in 0..symbols.len() {
        if let Some(last) = i.checked_sub(1).map(|last| &symbols[last]) {
            leads = edge(last) || leads && before_ok(last);
        }
        if symbols[i].kind != Kind::Quote {
            continue;
        }
        while roles.next_if(|one| one.0 < i).is_some() {}
        let role = roles.peek().filter(|one| one.0 == i).map_or(Role::Apostrophe, |one| one.1);
        let here = Here::of(symbols, i);
        (symbols[i].kind, symbols[i].sign) = match here.meaning(open.pending(), role) {
            Meaning::Apostrophe => (Kind::Apostrophe, know.apostrophe),
            Meaning::Straight => (Kind::Other, know.double_straight),
            Meaning::Opens(mark) => {
                let nonspecific = habits.primary(mark) && here.opens_unmistaken(leads);
                open.begin(mark, nonspecific);
                (Kind::OpenQuote, opening(mark, nonspecific))
            }
            Meaning::Closes(mark) => {
                let unopened = || habits.primary(mark) && here.before != Kind::Space;
                let nonspecific = open.end(mark).unwrap_or_else(unopened);
                (Kind::CloseQuote, closing(mark, nonspecific))
            }
        };
    }
}

/// What a mark means where it stands.
enum Meaning {
    Apostrophe,
    /// A straight mark that nothing shows to open or to close (3.15, 7.6.6).
    Straight,
    Opens(Mark),
    Closes(Mark),
}

/// A mark, and what stands beside it.
struct Here<'a> {
    symbols: &'a [Symbol],
    i: usize,
    before: Kind,
    after: Kind,
    /// A letter or digit follows.
    word_after: bool,
}

impl Here<'_> {
    fn of(symbols: &[Symbol], i: usize) -> Here<'_> {
        let before = if i == 0 { Kind::Space } else { symbols[i - 1].kind };
        let after = symbols.get(i + 1).map_or(Kind::Space, |s| s.kind);
        Here { symbols, i, before, after, word_after: matches!(after, Kind::Letter | Kind::Digit) }
    }

    /// Whether what stands before lets it open.
    fn starts(&self) -> bool {
        matches!(
            self.before,
            Kind::Space | Kind::Open | Kind::OpenQuote | Kind::Hyphen | Kind::Dash | Kind::Index
        ) || self.i > 0 && matches!(self.symbols[self.i - 1].ch, '/' | '<' | '=')
    }

    /// What the mark means; `pending` tells whether a double quotation is open, `role` what the weighing of the line's single
    /// marks made of this one (7.6.5).
    fn meaning(&self, pending: bool, role: Role) -> Meaning {
        match self.symbols[self.i].ch {
            '"' => self.straight(pending),
            // German and other quotations close with the mark that opens the English ones.
            '“' if !self.starts() && !self.word_after && pending => Meaning::Closes(Mark::Double),
            '“' | '„' => Meaning::Opens(Mark::Double),
            '”' => Meaning::Closes(Mark::Double),
            '«' => Meaning::Opens(Mark::Italian),
            '»' => Meaning::Closes(Mark::Italian),
            _ => match role {
                Role::Opens => Meaning::Opens(Mark::Single),
                Role::Closes => Meaning::Closes(Mark::Single),
                Role::Apostrophe => Meaning::Apostrophe,
            },
        }
    }

    fn straight(&self, pending: bool) -> Meaning {
        let Here { symbols, i, before, after, word_after } = *self;
        // Two straight marks with nothing between them.
        let empty = before == Kind::OpenQuote
            && !word_after
            && after != Kind::Quote
            && symbols[i - 1].ch == symbols[i].ch;
        if empty {
            return Meaning::Closes(Mark::Double);
        }
        let alone = before == Kind::Space && after == Kind::Space;
        // Feet and inches; or within a word, such as a mark of stress: nothing shows that it opens.
        let measure = before == Kind::Digit || alone;
        let inner = || before == Kind::Close && word_after && !closes_double(symbols, i);
        if !pending && (measure || inner()) {
            return Meaning::Straight;
        }
        let opens = !alone && (self.starts() && after != Kind::Space || !pending && word_after);
        if opens { Meaning::Opens(Mark::Double) } else { Meaning::Closes(Mark::Double) }
    }

    /// Whether the sign of one cell is read as an opening mark here. `leads` tells that nothing but what 2.6.2 allows stands
    /// before, up to the last space, hyphen or dash.
    fn opens_unmistaken(&self, leads: bool) -> bool {
        let Here { symbols, i, before, after, .. } = *self;
        // Before a hyphen or dash nobody reads "his", which touches no lower sign (10.5.1).
        let lone = matches!(before, Kind::Space | Kind::Open | Kind::Hyphen | Kind::Dash)
            && (after == Kind::Space
                || after == Kind::Quote
                    && symbols[i + 1].ch == symbols[i].ch
                    && !symbols.get(i + 2).is_some_and(|s| matches!(s.kind, Kind::Letter | Kind::Digit))
                || after == Kind::Close && ends_there(&symbols[i + 1..]));
        // Elsewhere the sign of one cell would be read as a question mark (7.5.4), alone as "his" (7.6.4).
        let read = leads
            || before == Kind::Open
            || before == Kind::OpenQuote && symbols[i - 1].sign != known().one_open;
        !lone && read
    }
}

/// The sign that opens a quotation.
fn opening(mark: Mark, nonspecific: bool) -> SignId {
    let know = known();
    match mark {
        _ if nonspecific => know.one_open,
        Mark::Double => know.double_open,
        Mark::Single => know.single_open,
        Mark::Italian => know.italian_open,
    }
}

/// The sign that closes one.
fn closing(mark: Mark, nonspecific: bool) -> SignId {
    let know = known();
    match mark {
        _ if nonspecific => know.one_close,
        Mark::Double => know.double_close,
        Mark::Single => know.single_close,
        Mark::Italian => know.italian_close,
    }
}

/// The specific sign of a quotation mark that has the sign of one cell.
pub(crate) fn specific(mark: &Symbol) -> SignId {
    let know = known();
    match (mark.ch, mark.kind == Kind::OpenQuote) {
        ('«', true) => know.italian_open,
        ('»', _) => know.italian_close,
        ('‘' | '‚' | '\'' | '’', true) => know.single_open,
        ('‘' | '\'' | '’', false) => know.single_close,
        (_, true) => know.double_open,
        (_, false) => know.double_close,
    }
}

/// The mark of one cell that closes the one at `i`, if it is within reach.
pub(crate) fn partner(symbols: &[Symbol], i: usize) -> Option<usize> {
    let know = known();
    let mut depth = 0;
    for (k, s) in symbols.iter().enumerate().take(i + 600).skip(i + 1) {
        if s.sign == know.one_open {
            depth += 1;
        } else if s.sign == know.one_close {
            if depth == 0 {
                return Some(k);
            }
            depth -= 1;
        }
    }
    None
}

/// Whether nothing but what 2.6.3 allows stands up to the next space, hyphen or dash.
fn ends_there(after: &[Symbol]) -> bool {
    after.iter().take(DEEPEST).take_while(|s| !edge(s)).all(|s| after_ok(s) || s.kind == Kind::Quote)
}

/// Whether any single quotation mark is closed: a right one that no letter follows.
fn closes_single(text: &str) -> bool {
    let mut chars = text.chars().skip_while(|&c| c != '‘').peekable();
    while let Some(c) = chars.next() {
        if matches!(c, '’' | '\'') && !chars.peek().is_some_and(|c| c.is_alphanumeric()) {
            return true;
        }
    }
    false
}

/// How many pairs of straight single quotation marks a text has outside double ones, and where the first opens.
fn straight_singles(text: &str) -> (usize, Option<usize>) {
    let (mut open, mut close, mut first) = (0, 0, None);
    let mut outer = None;
    for (at, c) in text.char_indices().filter(|(_, c)| matches!(c, '\'' | '"' | '“' | '”' | '\n')) {
        if c != '\'' {
            outermost(&mut outer, c, None, ("", ""));
            continue;
        }
        if outer.is_some() {
            continue;
        }
        let before = text[..at].chars().next_back();
        let after = text[at + 1..].chars().next();
        let begins =
            before.is_none_or(|c| c.is_whitespace() || matches!(c, '(' | '[' | '{' | '"' | '“' | '—' | '-'));
        let letter = after.is_some_and(char::is_alphanumeric);
        if begins && after.is_some_and(|c| !c.is_whitespace()) {
            let word = text[at + 1..].split(|c: char| !c.is_alphabetic()).next().unwrap_or("");
            if !is_elision(word) && !after.is_some_and(|c| c.is_ascii_digit()) {
                open += 1;
                first.get_or_insert(at);
            }
        } else if !begins && !letter && open > close {
            close += 1;
        }
    }
    (open.min(close), first)
}

/// Whether a double quotation mark that cannot open follows the one at `i` within reach.
fn closes_double(symbols: &[Symbol], i: usize) -> bool {
    (i + 2..symbols.len().min(i + 600)).any(|j| {
        symbols[j].ch == '"'
            && symbols[j - 1].kind != Kind::Space
            && !symbols.get(j + 1).is_some_and(|s| matches!(s.kind, Kind::Letter | Kind::Digit))
    })
}

fn dashes(symbols: &mut [Symbol], habits: &Habits) {
    for s in symbols.iter_mut().filter(|s| matches!(s.ch, '—' | '―' | '⸺' | '⸻')) {
        let long = if s.ch == '—' && s.len == 1 { habits.long_em } else { habits.long_row };
        s.sign = if long { known().long_dash } else { known().dash };
    }
}
