//! Which contraction the rules bar at a place, by position and by the letters around (10.3 to 10.9).
//!
//! Clauses that hang on pronunciation are decided here by stated rules over the letters; the lexicon of seams decides
//! words on which these rules are wrong.

use crate::ueb::register::Class;

/// Why a contraction is barred: the section and the reason in plain words.
pub type Bar = (&'static str, &'static str);

/// A place in a word where a contraction's letters stand.
pub struct Place<'a> {
    /// The word, in lower case, one byte a letter; a letter that takes no contraction is `?`.
    pub word: &'a [u8],
    /// The contraction's first letter.
    pub at: usize,
    /// How many letters it has.
    pub len: usize,
    /// The first letter begins a word (10.4.3, 10.6.2).
    pub word_start: bool,
    /// The sequence stands alone (2.6).
    pub standing_alone: bool,
    /// A capitals or typeform mark stands directly before the contraction.
    pub mark_before: bool,
    /// Such a mark stands directly after it.
    pub mark_after: bool,
    /// The lexicon says that pronunciation permits it here.
    pub permitted: bool,
}

impl Place<'_> {
    fn before(&self) -> &[u8] {
        &self.word[..self.at]
    }
    fn letters(&self) -> &[u8] {
        &self.word[self.at..self.at + self.len]
    }
    fn rest(&self) -> &[u8] {
        &self.word[self.at + self.len..]
    }
    fn ends(&self) -> bool {
        self.rest().is_empty()
    }
    fn begins(&self) -> bool {
        self.at == 0
    }
    fn rest_is(&self, any: &[&str]) -> bool {
        any.iter().any(|text| text.as_bytes() == self.rest())
    }
    fn rest_starts(&self, any: &[&str]) -> bool {
        any.iter().any(|text| self.rest().starts_with(text.as_bytes()))
    }
    fn word_is(&self, any: &[&str]) -> bool {
        any.iter().any(|text| text.as_bytes() == self.word)
    }
    fn word_starts(&self, any: &[&str]) -> bool {
        any.iter().any(|text| self.word.starts_with(text.as_bytes()))
    }
}

fn vowel(c: u8) -> bool {
    matches!(c, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
}

fn no(section: &'static str, why: &'static str) -> Option<Bar> {
    Some((section, why))
}

/// Why the contraction is barred at this place; `None` when it may be used.
pub fn bar(class: Class, place: &Place) -> Option<Bar> {
    match class {
        Class::StrongContraction => strong_contraction(place),
        Class::StrongGroupsign => strong_groupsign(place),
        Class::LowerGroupsign => lower_groupsign(place),
        Class::InitialLetterContraction => initial_letter(place),
        Class::FinalLetterGroupsign => final_letter(place),
        _ => no("10.9.1", "stands for a whole word only"),
    }
}

/// Combining forms that end in o, before a word that begins with f: "of" would bridge them (10.11.5).
const FORMS: &[&str] = &[
    "micro", "bio", "photo", "aero", "styro", "filo", "radio", "audio", "video", "electro", "hydro", "macro",
    "two", "auto", "neuro", "retro", "thermo", "cyto", "agro", "petro", "poly", "techno", "chloro", "hypo",
    "acro",
];

fn strong_contraction(place: &Place) -> Option<Bar> {
    if place.permitted {
        return None;
    }
    match place.letters() {
        b"of" if FORMS.iter().any(|form| place.word[..=place.at] == *form.as_bytes()) => {
            no("10.11.5", "would bridge the parts of the word")
        }
        b"the" => aspirated(place, 1),
        _ => None,
    }
}

/// Second parts of compounds that begin with a sounded h (10.11.2).
const H_WORDS: &[&str] = &[
    "head", "hood", "house", "hole", "hold", "hand", "horse", "hook", "hunt", "heart", "hammer", "hanger",
    "hill", "hound", "hall", "hide", "herd", "happy", "haul",
];

/// Whether the h of a contraction, `h` letters after its first, begins the second part of a compound.
fn aspirated(place: &Place, h: usize) -> Option<Bar> {
    let from = place.at + h;
    let (first, second) = (&place.word[..from], &place.word[from..]);
    let part = first.len() >= 2 && first.iter().any(|&c| vowel(c));
    let known = H_WORDS.iter().any(|word| second.starts_with(word.as_bytes()));
    // threshold, Witham's like, brougham: not compounds of these words.
    if part && known && !(first.ends_with(b"res") || (first.ends_with(b"ot") && second == b"her")) {
        return no("10.11.2", "the h is sounded");
    }
    if place.letters() == b"sh"
        && place.word_starts(&["mish"])
        && place.at == 2
        && place.rest().first().is_some_and(|&c| vowel(c))
    {
        return no("10.11.2", "the h is sounded");
    }
    if place.letters() == b"gh" && place.before().ends_with(b"n") && place.rest_starts(&["am"]) {
        return no("10.11.2", "the h is sounded");
    }
    None
}

fn strong_groupsign(place: &Place) -> Option<Bar> {
    let letters = place.letters();
    if place.standing_alone
        && place.begins()
        && place.ends()
        && matches!(letters, b"ch" | b"sh" | b"th" | b"wh" | b"ou" | b"st")
    {
        return no("10.4.2", "would be read as a word");
    }
    if letters == b"ing" && place.begins() && place.word_start {
        return no("10.4.3", "not at the beginning of a word");
    }
    if place.permitted {
        return None;
    }
    match letters {
        b"gh" | b"sh" | b"th" | b"wh" => aspirated(place, 1),
        b"st" if place.rest_starts(&["own"]) && place.at >= 3 && !place.before().ends_with(b"n") => {
            no("10.11.1", "would bridge the parts of a compound word")
        }
        _ => None,
    }
}

fn lower_groupsign(place: &Place) -> Option<Bar> {
    let letters = place.letters();
    match letters {
        b"be" | b"con" | b"dis" => {
            if !(place.begins() && place.word_start) {
                return no("10.6.2", "only at the beginning of a word");
            }
            if place.ends() {
                return no("10.6.2", "only when a letter follows");
            }
            if place.mark_after {
                return no("10.6.3", "an indicator follows");
            }
            if place.permitted {
                return None;
            }
            let first = match letters {
                b"be" => be_is_a_syllable(place.rest()),
                b"con" => con_is_a_syllable(place.rest()),
                _ => dis_is_a_syllable(place.rest()),
            };
            if first { None } else { no("10.6.1", "not the first syllable of the word") }
        }
        b"ea" | b"bb" | b"cc" | b"ff" | b"gg" => {
            if place.begins() || place.ends() {
                return no("10.6.5", "only between letters");
            }
            if place.mark_before || place.mark_after {
                return no("10.6.6", "an indicator stands next to it");
            }
            if letters == b"ea" && !place.permitted && bridges_prefix(place) {
                return no("10.6.7", "would bridge a prefix and the rest of the word");
            }
            None
        }
        b"en" if place.standing_alone && place.begins() && place.ends() => {
            no("10.6.9", "would be read as enough")
        }
        _ => None,
    }
}

/// Whether "ea" stands between the prefix re-, pre- or de- and the rest of the word.
fn bridges_prefix(place: &Place) -> bool {
    match place.before() {
        b"pr" => !place.rest_starts(&["ch"]),
        b"r" => {
            place.rest_starts(&[
                "djust", "djudg", "dmi", "dopt", "dapt", "ddre", "dvan", "lig", "llo", "ppe", "ppl", "ppo",
                "ppr", "rm", "rran", "rrest", "ss", "sc", "tt", "bso", "cq", "ccu", "cce", "ffirm", "ffor",
                "gent", "nim", "naly", "ug", "wak", "vail",
            ]) && !place.rest_is(&["m"])
        }
        b"d" => place.rest_starts(&["ct", "cc", "mbul", "ss"]),
        _ => false,
    }
}

fn be_is_a_syllable(rest: &[u8]) -> bool {
    let consonants = rest.iter().take_while(|&&c| !vowel(c)).count();
    // be, bed, bend, best: one syllable, closed.
    if consonants == rest.len() {
        return false;
    }
    if consonants == 0 {
        // be-ing, be-atitude; but bead, beer, beige, beauty, beyond is a shortform.
        return rest.starts_with(b"ing")
            || rest.starts_with(b"atri")
            || rest.starts_with(b"atif")
            || rest.starts_with(b"atit");
    }
    // The consonant closes the first syllable: bev-erage, ben-efit, ber-yl, bet-ter.
    let closed: [&[u8]; 20] = [
        b"ver", b"vel", b"vy", b"vie", b"vi", b"nef", b"ned", b"ni", b"ne", b"ryl", b"ro", b"zel", b"zant",
        b"ck", b"tty", b"ggar", b"sti", b"sso", b"sse", b"thel",
    ];
    let open: [&[u8]; 4] = [b"nevol", b"neath", b"nign", b"nigh"];
    if closed.iter().any(|start| rest.starts_with(start)) {
        return open.iter().any(|start| rest.starts_with(start));
    }
    match consonants {
        1 => rest.first() != Some(&b'x'),
        // Clusters that can open a syllable: be-stow, be-tray, be-friend, be-queath.
        2 | 3 => {
            let cluster = &rest[..consonants];
            rest.starts_with(b"qu")
                || [
                    b"st".as_slice(),
                    b"tr",
                    b"fr",
                    b"gr",
                    b"br",
                    b"cr",
                    b"dr",
                    b"pl",
                    b"cl",
                    b"fl",
                    b"gl",
                    b"bl",
                    b"sl",
                    b"sm",
                    b"sn",
                    b"sp",
                    b"tw",
                    b"wh",
                    b"th",
                    b"sh",
                    b"ch",
                    b"wr",
                    b"kn",
                    b"spr",
                    b"str",
                    b"spl",
                    b"thr",
                    b"dw",
                    b"sw",
                    b"pr",
                ]
                .contains(&cluster)
        }
        _ => false,
    }
}

fn con_is_a_syllable(rest: &[u8]) -> bool {
    if rest.first().is_some_and(|&c| vowel(c)) {
        return rest.starts_with(b"urb") || rest.starts_with(b"oid");
    }
    // conch, conk, cons, conned: the one syllable goes on.
    let whole: [&[u8]; 9] = [b"ch", b"chs", b"ches", b"k", b"ks", b"s", b"ked", b"ned", b"chy"];
    !whole.contains(&rest)
}

fn dis_is_a_syllable(rest: &[u8]) -> bool {
    let whole: [&[u8]; 6] = [b"c", b"cs", b"k", b"ks", b"h", b"s"];
    if whole.contains(&rest) {
        return false;
    }
    if rest.starts_with(b"h") {
        // dis-harmony, dis-honest; but dish, dishes, di-shevel.
        return [b"hab".as_slice(), b"har", b"hea", b"heri", b"hon", b"hor", b"hou"]
            .iter()
            .any(|start| rest.starts_with(start));
    }
    // di-sulphide, di-saccharide; di-spirit.
    ![b"ul".as_slice(), b"acch", b"yll", b"pirit", b"omy"].iter().any(|start| rest.starts_with(start))
}

fn initial_letter(place: &Place) -> Option<Bar> {
    if place.permitted {
        return None;
    }
    let (before, rest) = (place.before(), place.rest());
    match place.letters() {
        b"upon" => (!before.is_empty() && !matches!(before, b"here" | b"there" | b"where"))
            .then_some(("10.7.2", "does not keep the meaning of the word")),
        b"these" | b"those" | b"whose" => {
            let kept = before.is_empty() && (rest.is_empty() || place.rest_starts(&["so", "ev"]));
            (!kept).then_some(("10.7.2", "does not keep the meaning of the word"))
        }
        b"there" => {
            let kept = before.is_empty()
                && (rest.is_empty()
                    || place.rest_starts(&[
                        "about", "after", "agai", "among", "at", "by", "for", "from", "in", "of", "on",
                        "out", "to", "un", "up", "with", "fro",
                    ]));
            (!kept).then_some(("10.7.2", "does not keep the meaning of the word"))
        }
        b"had" => (place.rest_starts(&["a", "e", "i", "o", "u", "r"]) && !place.rest_is(&["ith"]))
            .then_some(("10.7.3", "the a is not short")),
        b"ever" => ever(place),
        b"here" => {
            let kept = rest.is_empty()
                || place.rest_is(&["s"])
                || (before.is_empty()
                    && place.rest_starts(&[
                        "about", "after", "at", "by", "from", "in", "of", "on", "to", "un", "up", "with", "'",
                    ])
                    && !place.rest_starts(&["tic"]));
            (!kept).then_some(("10.7.5", "is not said as one syllable"))
        }
        b"name" => (place.rest_starts(&["nt", "l", "se", "nd", "x", "n"])
            && !place.rest_starts(&["le", "ly"])
            || (before.ends_with(b"e") && rest == b"l"))
            .then_some(("10.7.5", "is not said as one syllable")),
        b"one" => one(place),
        b"some" => some(place),
        b"time" => {
            let kept = rest.is_empty()
                || place.rest_is(&["s", "d", "less", "ly", "ous", "ously"])
                || (before.is_empty() && !place.rest_starts(&["nt"]));
            (!kept).then_some(("10.7.8", "is not said like the word time"))
        }
        b"under" => {
            if matches!(before.last(), Some(b'a' | b'o')) {
                no("10.7.9", "follows a or o")
            } else if before.is_empty() && place.rest_starts(&["og", "iv", "at"]) {
                no("10.7.9", "un is a prefix here")
            } else {
                None
            }
        }
        b"mother" => place.rest_starts(&["ap", "m"]).then_some(("10.10.9", "would distort the word")),
        b"day" => (before.is_empty() && place.rest_is(&["an", "ak", "aks"]))
            .then_some(("10.10.9", "would distort the word")),
        b"work" => (before == b"d").then_some(("10.10.9", "would distort the word")),
        _ => None,
    }
}

fn ever(place: &Place) -> Option<Bar> {
    if matches!(place.before().last(), Some(b'e' | b'i')) {
        return no("10.7.4", "follows e or i");
    }
    let stressed = match place.rest() {
        rest if place.at == 0 => !(rest.starts_with(b"s") || rest.starts_with(b"t")),
        b"e" | b"es" | b"er" | b"est" | b"ely" | b"ed" => place.before() == b"s" && place.rest() == b"ed",
        rest if rest.starts_with(b"se") || rest.starts_with(b"si") || rest.starts_with(b"sa") => false,
        rest => !["t", "b", "if", "it", "io", "ien", "ish", "in"]
            .iter()
            .any(|end| rest.starts_with(end.as_bytes())),
    };
    if stressed { None } else { no("10.7.4", "the stress is not on the first e") }
}

fn one(place: &Place) -> Option<Bar> {
    if place.before().ends_with(b"o") {
        return no("10.7.6", "follows o");
    }
    let rest = place.rest();
    let kept = match rest.first() {
        None => true,
        _ if place.word_starts(&[
            "honest",
            "dishonest",
            "monetar",
            "monetiz",
            "monetis",
            "honey",
            "money",
        ]) =>
        {
            true
        }
        _ if rest == b"y" || rest == b"ys" || rest == b"yed" => true,
        Some(b'n') => rest.starts_with(b"ness"),
        Some(b's') => {
            rest == b"s"
                || ["self", "some", "time", "wall", "work", "mason", "ware"]
                    .iter()
                    .any(|word| rest.starts_with(word.as_bytes()))
        }
        Some(b'l') => rest.starts_with(b"ly") || rest.starts_with(b"li") || rest.starts_with(b"le"),
        Some(b'm') => rest.starts_with(b"ment"),
        Some(b'd' | b'w' | b'f' | b'b' | b'h' | b'g' | b'p') => true,
        Some(b'c') => rest.starts_with(b"c"),
        _ => false,
    };
    if kept { None } else { no("10.7.6", "is not said as one syllable") }
}

fn some(place: &Place) -> Option<Bar> {
    let rest = place.rest();
    let basic = rest.is_empty()
        || matches!(rest, b"s" | b"ly" | b"ness")
        || (place.at == 0
            && [
                "body", "how", "one", "thing", "time", "what", "where", "day", "place", "such", "way",
                "when", "who", "why",
            ]
            .iter()
            .any(|word| rest.starts_with(word.as_bytes())))
        || (place.at >= 3 && matches!(rest, b"r" | b"st" | b"ness"));
    if basic { None } else { no("10.7.7", "is not a syllable of the basic word") }
}

fn final_letter(place: &Place) -> Option<Bar> {
    if place.begins() {
        return no("10.8.1", "only after a letter");
    }
    if place.mark_before {
        return no("10.8.2", "follows an indicator");
    }
    if place.permitted {
        return None;
    }
    match place.letters() {
        b"ity" if place.word_is(&["biscuity", "dacoity", "fruity", "hoity", "toity", "rabbity"]) => {
            no("10.8.3", "the y is a suffix")
        }
        // "ness" after the feminine ending of a word in -en or -in.
        b"ness"
            if place.before().ends_with(b"ai")
                || matches!(
                    place.before(),
                    b"citize" | b"warde" | b"heathe" | b"denize" | b"kitte" | b"vixe"
                ) =>
        {
            no("10.8.4", "the ending is ess")
        }
        b"ong" if place.word_starts(&["nong"]) && place.at == 1 => {
            no("10.11.5", "would bridge a prefix and the rest of the word")
        }
        _ => None,
    }
}
