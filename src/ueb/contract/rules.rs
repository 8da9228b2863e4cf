//! Which contraction the rules bar at a place, by position and by the letters around (10.3 to 10.9).
//!
//! Clauses that hang on pronunciation are decided here by stated rules over the letters; the lexicon of seams decides
//! words on which these rules are wrong.

use crate::ueb::register::Class;

/// Why a contraction is barred: the section and the reason in plain words.
pub type Bar = (&'static str, &'static str);

/// A place in a word where a contraction's letters stand.
pub struct Place<'a> {
    /// The word, in lower case, one byte a letter; a letter that takes no contraction is `?`. It ends at the next
    /// capitals or typeform mark after the contraction.
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
    /// Such a mark stands directly after it; `word` ends there then, though the letters go on.
    pub word_goes_on: bool,
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
    fn rest_starts(&self, any: &[&str]) -> bool {
        any.iter().any(|text| self.rest().starts_with(text.as_bytes()))
    }
    fn word_is(&self, any: &[&str]) -> bool {
        any.iter().any(|text| text.as_bytes() == self.word)
    }
}

/// Whether it is one of a, e, i, o, u, y.
pub fn vowel(c: u8) -> bool {
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

fn strong_contraction(place: &Place) -> Option<Bar> {
    if place.permitted {
        return None;
    }
    let before = place.before();
    match place.letters() {
        b"the" => aspirated(place),
        // co-factor, co-founder: as in microfilm; but coffee, coffin.
        b"of" if before == b"c" && place.rest().len() > 2 && !place.rest_starts(&["f"]) => {
            no("10.11.5", "would hinder the reading of the word")
        }
        // in-so-far.
        b"of" if before == b"ins" && place.rest_starts(&["ar"]) => {
            no("10.11.1", "would bridge the words of a compound")
        }
        _ => None,
    }
}

/// Whether the letter `at` is an h that is sounded after the letter before it (10.11.2), beyond the compounds that the list
/// of parts knows.
pub fn h_is_sounded(word: &[u8], at: usize) -> bool {
    at > 1 && word.get(at) == Some(&b'h') && {
        let place = Place {
            word,
            at: at - 1,
            len: 2,
            word_start: true,
            standing_alone: false,
            mark_before: false,
            word_goes_on: false,
            permitted: false,
        };
        aspirated(&place).is_some()
    }
}

/// Whether the h of a contraction is sounded, beyond the compounds that the list of parts knows (10.11.2).
fn aspirated(place: &Place) -> Option<Bar> {
    let sounded = match place.letters() {
        // mis-hap, mis-hear; not mishmash, Mishawaka.
        b"sh" => match place.before() {
            b"mi" => place.rest_starts(&["allow", "and", "ant", "ap", "ear", "it", "ook"]),
            // des-habille, des-honneur: the prefix is French; trans-human; not tranship.
            b"de" | b"d?" => place.rest_starts(&["abill", "onn", "onor", "?r", "erit", "erb", "ydr"]),
            b"tran" => place.rest().len() > 2 && !place.rest_starts(&["ip", "ap"]),
            // dis-harmony, dis-honest.
            b"di" => dis_is_a_syllable(&place.word[3..]),
            _ => false,
        },
        // Cunnyng-ham, Lang-ham, Song-hua; Cleg-horn, Lang-horne.
        b"gh" => {
            place.before().ends_with(b"n") && (place.rest() == b"am" || place.rest_starts(&["ua"]))
                || place.rest_starts(&["orn"])
        }
        // New-hart, Paw-huska, haw-haw: after such a vowel only what may begin a word is no seam (a-while, side-wheel).
        b"wh" => {
            matches!(place.before().last(), Some(b'a' | b'e' | b'o'))
                && !place.ends()
                && place.rest() != b"a"
                && !place.rest_starts(&[
                    "ack", "al", "ang", "ap", "arf", "at", "eat", "ee", "elk", "elm", "elp", "en", "er",
                    "et", "ey", "i", "o", "y",
                ])
        }
        // met-haemoglobin.
        b"th" | b"the" => place.before() == b"me" && starts(&place.word[3..], &["hemogl", "haemogl"]),
        _ => false,
    };
    if sounded { no("10.11.2", "the h is sounded") } else { None }
}

fn strong_groupsign(place: &Place) -> Option<Bar> {
    let letters = place.letters();
    if place.standing_alone
        && place.begins()
        && place.ends()
        && !place.word_goes_on
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
        b"gh" | b"sh" | b"th" | b"wh" => aspirated(place),
        // James-town, Youngs-town.
        b"st" if place.at >= 3 && starts(place.rest(), &["own"]) => {
            no("10.11.1", "would bridge the words of a compound")
        }
        // dis-in-genuous, re-in-gest: the i-n is a prefix of its own.
        b"ing"
            if matches!(
                place.before(),
                b"dis" | b"un" | b"re" | b"non" | b"pre" | b"mis" | b"over" | b"super"
            ) && starts(
                place.rest(),
                &["eni", "enu", "est", "rai", "ran", "rat", "red", "res", "row"],
            ) =>
        {
            no("10.11.6", "would hinder the reading of the word")
        }
        // infra-red, ultra-rapid, contra-rotating: the a is the prefix's; not contrary.
        b"ar"
            if matches!(place.before(), b"infr" | b"ultr" | b"extr" | b"intr" | b"supr")
                || place.before() == b"contr" && place.rest_starts(&["ot", "em", "ev"]) =>
        {
            no("10.11.5", "would hinder the reading of the word")
        }
        // co-write, pro-western: the o is the prefix's.
        b"ow"
            if place.before() == b"c" && place.rest_starts(&["rit", "rot"])
                || place.before() == b"pr" && place.rest_starts(&["ar", "est"]) =>
        {
            no("10.11.5", "would hinder the reading of the word")
        }
        // no-way, no-wise, no-whither; not nowadays.
        b"ow"
            if place.before() == b"n"
                && (place.rest_starts(&["ise", "h"]) || is_any(place.rest(), &["ay", "ays"])) =>
        {
            no("10.11.1", "would bridge the words of a compound")
        }
        // mis-timed: the sign for "time" keeps the word, and takes no more cells.
        b"st" if place.before() == b"mi" && place.rest_starts(&["imed"]) => {
            no("10.10.8", "would distort the word")
        }
        // pro-union: so is this o.
        b"ou" if place.before() == b"pr" && place.rest_starts(&["nion"]) => {
            no("10.11.5", "would hinder the reading of the word")
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
            if place.word_goes_on {
                return no("10.6.3", "an indicator follows");
            }
            if place.ends() {
                return no("10.6.2", "only when a letter follows");
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
            if place.mark_before || place.word_goes_on {
                return no("10.6.6", "an indicator stands next to it");
            }
            if place.begins() || place.ends() {
                return no("10.6.5", "only between letters");
            }
            let adverb = matches!(place.before(), b"her" | b"ther" | b"wher")
                && place.rest_starts(&["t", "s", "bout", "bov", "ft", "gai", "mong", "nent"]);
            // give-away, hide-aways; but sea-way, area-way.
            let away =
                is_any(place.rest(), &["way", "ways"]) && place.at >= 3 && !place.before().ends_with(b"ar");
            if letters == b"ea" && (adverb || away) {
                return no("10.11.1", "would bridge the words of a compound");
            }
            // orange-ade, lime-ade; but agreeable, permeate.
            if letters == b"ea" && !place.permitted && is_any(place.rest(), &["de", "des"]) && place.at > 2 {
                return no("10.11.7", "would hinder the reading of the word");
            }
            // sub-basement; but subbed, and the a of abbreviate is no prefix any more.
            if letters == b"bb"
                && !place.permitted
                && place.before() == b"su"
                && place.rest().len() > 2
                && !place.rest_starts(&["ed", "ing", "er", "ot", "ie", "ut"])
            {
                return no("10.11.5", "would hinder the reading of the word");
            }
            if letters == b"ea" && !place.permitted && bridges_prefix(place) {
                return no("10.6.7", "would bridge a prefix and the rest of the word");
            }
            None
        }
        // re-named: the sign for "name" keeps the word, and takes no more cells.
        b"en" if place.rest() == b"amed" => no("10.10.8", "would distort the word"),
        b"en" if place.standing_alone && place.begins() && place.ends() => {
            no("10.6.9", "would be read as enough")
        }
        _ => None,
    }
}

/// Whether "ea" stands between the prefix re-, pre- or de- and the rest of the word.
fn bridges_prefix(place: &Place) -> bool {
    let before = place.before();
    // The rest of the word, without its a: of real, read, reach, reap, rear, reason, react the e is no prefix's.
    let rest = place.rest();
    let after_prefix = |stem: &[u8]| {
        before.strip_suffix(stem).is_some_and(|prefix| matches!(prefix, b"" | b"un" | b"non" | b"over"))
    };
    if before.ends_with(b"pr") && (after_prefix(b"pr")) {
        return !rest.starts_with(b"ch");
    }
    // overre-act, photore-active.
    if before.ends_with(b"r") && rest.starts_with(b"ct") && !before.ends_with(b"cr") {
        return true;
    }
    if after_prefix(b"r") {
        let doubled = rest.len() > 2 && rest[0] == rest[1] && rest != b"lly";
        // rear-most, rear-guard; but re-armament, re-argue.
        let rear = starts(rest, &["rmost", "rguard"]);
        return doubled
            || !rear
                && starts(
                    rest,
                    &[
                        "ba", "bl", "br", "bs", "bu", "chie", "cid", "ck", "cq", "dap", "dj", "dm", "dop",
                        "dor", "dv", "ge", "gi", "gr", "im", "ir", "larm", "lert", "lien", "lig", "lph",
                        "lter", "mal", "mass", "mend", "na", "nch", "ni", "noi", "nsw", "rg", "ris", "rm",
                        "ros", "rou", "sce", "sk", "spir", "udit", "ug", "uth", "va", "vo", "wak", "war",
                        "wok",
                    ],
                );
    }
    before == b"d"
        && starts(
            rest,
            &["cc", "cet", "cid", "ct", "er", "ir", "lk", "llo", "mbul", "min", "mm", "spir", "ss"],
        )
}

fn starts(rest: &[u8], any: &[&str]) -> bool {
    any.iter().any(|text| rest.starts_with(text.as_bytes()))
}

fn is_any(rest: &[u8], any: &[&str]) -> bool {
    any.iter().any(|text| rest == text.as_bytes())
}

fn be_is_a_syllable(rest: &[u8]) -> bool {
    let consonants = rest.iter().take_while(|&&c| !vowel(c)).count();
    // be, bed, bend, best: one syllable, closed.
    if consonants == rest.len() {
        return false;
    }
    if consonants == 0 {
        // be-ing, be-atitude, Be-owulf; but bead, beer, beige, beauty.
        return rest == b"in" || starts(rest, &["ing", "atri", "atif", "atit", "o", "yond"]);
    }
    // Bede: one syllable.
    if rest.len() == 2 && rest[1] == b'e' {
        return false;
    }
    // be-nevolent, be-neath; be-think; be-rhyme.
    if starts(
        rest,
        &[
            "dwarf", "nevol", "neficen", "nempt", "neath", "nign", "nigh", "nit", "nin", "rhym", "ribb",
            "rime", "ringed", "rob", "roug", "ryllia", "ryllio", "rylliu", "thank", "thes", "think", "thoug",
            "thral", "thump", "thun", "thwa",
        ],
    ) {
        return true;
    }
    // The consonant closes the first syllable: bev-erage, ben-efit, ber-yl, bed-room.
    if starts(
        rest,
        &[
            "ver", "vel", "vy", "vi", "van", "vat", "nef", "ned", "ni", "ne", "nj", "ryl", "ro", "ri", "ren",
            "res", "zel", "zant", "stia", "sting", "sted", "ster", "stse", "th", "tony", "tul", "droo",
            "droc", "drid", "drol", "drai", "drest", "doui",
        ],
    ) {
        return false;
    }
    match consonants {
        1 => rest.first() != Some(&b'x'),
        // Clusters that can open a syllable: be-stow, be-tray, be-friend, be-queath.
        2 | 3 => {
            rest.starts_with(b"qu")
                || CLUSTERS.contains(&std::str::from_utf8(&rest[..consonants]).unwrap_or_default())
        }
        _ => false,
    }
}

/// Consonants that can begin a syllable together.
const CLUSTERS: &[&str] = &[
    "bl", "br", "ch", "cl", "cr", "dr", "fl", "fr", "gl", "gn", "gr", "kn", "pl", "pr", "scr", "sh", "shr",
    "sl", "sm", "sn", "sp", "spl", "spr", "sq", "st", "str", "sw", "thr", "tr", "tw", "wh", "wr",
];

fn con_is_a_syllable(rest: &[u8]) -> bool {
    if rest.first().is_some_and(|&c| vowel(c)) {
        return rest.starts_with(b"urb");
    }
    // conch, conk, cons, conned: the one syllable goes on.
    !is_any(rest, &["ch", "chs", "ches", "k", "ks", "s", "ked", "ned", "chy"])
}

fn dis_is_a_syllable(rest: &[u8]) -> bool {
    if is_any(rest, &["c", "ced", "cing", "cs", "k", "ked", "king", "ks", "h", "s", "sed"])
        || starts(rest, &["clike", "kless", "klike"])
    {
        return false;
    }
    if rest.starts_with(b"h") {
        // dis-harmony, dis-honest; but dish, dishes, di-shevel.
        return starts(
            rest,
            &["hab", "hal", "har", "hea", "helm", "heri", "hom", "hon", "hor", "hou", "hum"],
        );
    }
    // di-sulphide, di-saccharide; di-spirit.
    !starts(rest, &["ul", "acch", "yll", "pirit", "odi", "omy", "omi", "epal", "perm"])
}

/// The part of a compound that the contraction stands in: what is before it there, and what follows.
fn part<'a>(place: &'a Place) -> (&'a [u8], &'a [u8]) {
    let (mut before, mut rest) = (place.before(), place.rest());
    if super::parts::meet(place.word, place.at) {
        before = &[];
    }
    if !rest.is_empty() && super::parts::meet(place.word, place.at + place.len) {
        rest = &[];
    }
    (before, rest)
}

fn initial_letter(place: &Place) -> Option<Bar> {
    if place.permitted {
        return None;
    }
    let (before, rest) = (place.before(), place.rest());
    match place.letters() {
        // chlor-dane; but lordosis.
        b"lord" if before.ends_with(b"ch") && !rest.is_empty() => {
            no("10.11.5", "would bridge the prefix and hinder recognition of the word")
        }
        // Dworkin: the w goes with the consonant before it; but sword, reword.
        b"work" | b"word" | b"world" if matches!(before, b"d" | b"t") => {
            no("10.10.9", "would distort the word")
        }
        // Lucknow: the k ends the first syllable; but acknowledge.
        b"know" if before.ends_with(b"c") && !before.ends_with(b"ac") => {
            no("10.10.9", "would distort the word")
        }
        // wh-er-ever.
        b"where" if starts(rest, &["ver"]) => no("10.10.8", "would distort the word"),
        b"upon" | b"these" | b"those" | b"whose" | b"there" => meaning_lost(place),
        b"had" => had(rest),
        b"ever" => ever(before, rest),
        b"here" => here(place),
        b"name" => name(place),
        b"one" => one(place),
        b"some" => some(place),
        b"time" => time(place),
        b"under" => under(before, rest),
        // chemo-therapy, homo-thermal.
        b"mother" => (starts(rest, &["ap", "m"])).then_some(("10.10.9", "would distort the word")),
        // Day-an, whadda-ya: the y begins a syllable.
        b"day" => (rest.first() == Some(&b'a')).then_some(("10.10.9", "would distort the word")),
        _ => None,
    }
}

/// Adverbs that begin with there.
const AFTER_THERE: &[&str] = &[
    "about", "abov", "after", "agai", "among", "anent", "at", "away", "by", "for", "from", "fro", "in",
    "ness", "of", "on", "out", "over", "through", "til", "to", "und", "unt", "up", "with",
];

/// Upon, these, those, whose and there are used only where they keep the meaning of the word (10.7.2).
fn meaning_lost(place: &Place) -> Option<Bar> {
    let (before, rest) = (place.before(), place.rest());
    let kept = match place.letters() {
        b"upon" => matches!(before, b"" | b"here" | b"there" | b"where"),
        b"there" => before.is_empty() && (rest.is_empty() || starts(rest, AFTER_THERE)),
        _ => before.is_empty() && (rest.is_empty() || starts(rest, &["so", "ev"])),
    };
    if kept { None } else { no("10.7.2", "does not keep the meaning of the word") }
}

/// shad-ow: the a is short, and "sh" is preferred; it is short in hadron and hadrosaur, but not in Hadrian, shady.
fn had(rest: &[u8]) -> Option<Bar> {
    let long = starts(rest, &["a", "e", "i", "o", "u", "r", "y"]) && !starts(rest, &["ow", "ro"]);
    if long { no("10.7.3", "the a is not short") } else { None }
}

/// Adverbs that begin with here.
const AFTER_HERE: &[&str] = &[
    "about", "abov", "after", "agai", "as", "at", "away", "by", "for", "from", "fro", "in", "of", "on",
    "soever", "to", "und", "unt", "up", "with",
];

fn here(place: &Place) -> Option<Bar> {
    let (before, rest) = (place.before(), place.rest());
    let kept = matches!(part(place).1, b"" | b"s")
        || starts(rest, &["ness", "less", "like"])
        // adher-ed, coher-ent: the strong groupsigns are preferred.
        || ["ad", "co"].iter().any(|stem| before.ends_with(stem.as_bytes()))
            && (matches!(rest, b"d" | b"r" | b"rs") || starts(rest, &["nt"]))
        // In there- and where- the longer sign is preferred.
        || matches!(before, b"" | b"t" | b"w")
            && starts(rest, AFTER_HERE)
            && !starts(rest, &["tic", "ford", "ti"]);
    if kept { None } else { no("10.7.5", "is not said as one syllable") }
}

fn name(place: &Place) -> Option<Bar> {
    let (before, rest) = part(place);
    let kept = matches!(rest, b"" | b"s" | b"d" | b"r" | b"rs" | b"able" | b"ly" | b"sake" | b"sakes")
        || rest.starts_with(b"less")
        || !matches!(rest, b"se" | b"ses")
            && !starts(rest, &["a", "e", "i", "l", "m", "n", "o", "r", "ter", "u", "x"]);
    let barred = !kept || before == b"e" && rest.starts_with(b"l");
    if barred { no("10.7.5", "is not said as one syllable") } else { None }
}

fn time(place: &Place) -> Option<Bar> {
    let (before, rest) = part(place);
    let kept = matches!(rest, b"" | b"s" | b"d" | b"ly")
        || starts(rest, &["less", "li", "ous"])
        // over-timer; not Mortimer, Latimer.
        || matches!(rest, b"r" | b"rs")
            && before.len() > 2
            && !is_any(before, &["mor", "lat", "lor", "cen"])
        || before.is_empty() && !rest.starts_with(b"nt");
    if kept { None } else { no("10.7.8", "is not said like the word time") }
}

fn under(before: &[u8], rest: &[u8]) -> Option<Bar> {
    if matches!(before.last(), Some(b'a' | b'o')) {
        no("10.7.9", "follows a or o")
    } else if before.is_empty() && starts(rest, &["og", "iv", "at"]) {
        no("10.7.9", "un is a prefix here")
    } else {
        None
    }
}

fn ever(before: &[u8], rest: &[u8]) -> Option<Bar> {
    if matches!(before.last(), Some(b'e' | b'i')) {
        return no("10.7.4", "follows e or i");
    }
    let first = rest.first().copied().unwrap_or(b's');
    let stressed = match before {
        // e-vert, e-version; but every, evergreen, Everton.
        b"" => !starts(rest, &["si"]) && (first != b't' || rest.starts_with(b"ton")),
        // ante-vert.
        b"ant" => false,
        // re-vere, re-verse, re-verberate; but rev-erend, rev-erie, irrev-erent.
        b"r" | b"unr" | b"irr" | b"nonr" => {
            !matches!(rest, b"e" | b"ed" | b"es" | b"er" | b"ers" | b"ing")
                && (vowel(first) && !rest.starts_with(b"if"))
        }
        // perse-vere; but persev-erate.
        b"pers" => rest.starts_with(b"at"),
        // se-vere, se-verity; but sev-er, sev-eral.
        _ if before.ends_with(b"s") => {
            !matches!(rest, b"e" | b"er" | b"est" | b"ely" | b"eness") && !rest.starts_with(b"it")
        }
        _ => !matches!(rest, b"e" | b"es") && !starts(rest, &["b", "nal", "se", "sion", "sib"]),
    };
    if stressed { None } else { no("10.7.4", "the stress is not on the first e") }
}

fn one(place: &Place) -> Option<Bar> {
    if place.before().ends_with(b"o") {
        return no("10.7.6", "follows o");
    }
    let before = place.before();
    let (_, rest) = part(place);
    // honest, monetary and their derivatives; the prefix non- before e.
    let root = place.at > 0 && {
        let from = &place.word[place.at - 1..];
        starts(from, &["honest", "monetar", "monetiz", "monetis", "honey", "money"])
    };
    let prefix = before == b"n" && !matches!(place.rest(), b"" | b"s" | b"such" | b"suches" | b"theless");
    // Castigli-one, conversazi-one; but glutathi-one, menadi-one.
    let two = before.ends_with(b"i")
        && matches!(place.rest(), b"" | b"s")
        && !(before.len() > 2 && (before.ends_with(b"di") || before.ends_with(b"thi")));
    // kro-ne, kro-nen: no English word begins so.
    let foreign = before.ends_with(b"kr");
    let kept = !prefix
        && !two
        && !foreign
        && match rest.first() {
            None => true,
            // ston-ed, hon-er: the sound is one syllable; the strong groupsign is preferred.
            Some(b'd' | b'r') if matches!(rest, b"d" | b"r" | b"rs") && silent_e(before) => true,
            // oppon-ent: the lower groupsign is preferred.
            Some(b'n') if matches!(rest, b"nt" | b"nts") && before.ends_with(b"p") => true,
            // Jones-boro; one-upmanship.
            Some(b's') if before.ends_with(b"j") => true,
            Some(b'u') if before.is_empty() => true,
            _ if root || matches!(rest, b"y" | b"ys" | b"yed") => true,
            Some(b'n') if rest.starts_with(b"ness") => true,
            Some(b's') if rest == b"s" || starts(rest, &["self", "some", "such", "time"]) => true,
            Some(b't') if rest == b"theless" => true,
            Some(b'l') if starts(rest, &["ly", "li", "less"]) => true,
            Some(b'm') if rest.starts_with(b"ment") => true,
            // stoneshot, phonecall; but phonetic, phoneme.
            Some(_) if stem_in_one(&place.word[..place.at + 3], rest) => true,
            // bonehead, stonewashed: the rest is a word of its own.
            Some(_) => {
                let first = &place.word[..place.at + 3];
                (place.begins() || super::parts::is_first(first)) && super::parts::is_second(rest)
            }
        };
    if kept { None } else { no("10.7.6", "is not said as one syllable") }
}

/// Whether the e after these letters and "on" is silent: stone, postpone, telephone; not season-ed, prison-er.
fn silent_e(before: &[u8]) -> bool {
    let ends = |any: &[&str]| any.iter().any(|end| before.ends_with(end.as_bytes()));
    let first_sound = !before.is_empty() && !before.iter().any(|&c| vowel(c));
    first_sound
        || matches!(before, b"at" | b"cond" | b"int" | b"imp" | b"dep" | b"prop" | b"unst" | b"unz" | b"rez")
        || ends(&["postp", "thr", "chaper", "leph", "gaph", "ckb", "wb", "gb", "hamb", "lest", "nest", "gg"])
}

/// Whether a word that ends in "one" is a common first part of compounds, before these letters.
fn stem_in_one(word: &[u8], rest: &[u8]) -> bool {
    // Notonect-al, hydro-nephrosis, bonell-ia, Teuton-esque.
    if vowel(rest[0]) || starts(rest, &["ct", "phr", "ll", "squ"]) {
        return false;
    }
    let ends = |any: &[&str]| any.iter().any(|stem| word.ends_with(stem.as_bytes()));
    match rest.len() {
        0..3 => false,
        // stone-man, bone-set.
        3 => ends(&["stone", "bone"]),
        _ => {
            ends(&["stone", "bone", "zone", "throne", "drone", "clone"])
                || ends(&["phone", "tone"]) && !matches!(rest[0], b'm' | b't')
        }
    }
}

fn some(place: &Place) -> Option<Bar> {
    let (_, rest) = part(place);
    let basic = matches!(rest, b"" | b"s")
        || starts(rest, &["ly", "ness", "thing"])
        || (place.at == 0
            && starts(
                rest,
                &[
                    "body", "bodies", "how", "one", "time", "what", "where", "day", "deal", "place", "such",
                    "way", "when", "while", "whit", "who", "why", "wise",
                ],
            ))
        // winsome-r; not unbosom-er, ransom-er, blossom-er.
        || (place.at >= 3
            && matches!(rest, b"r" | b"st")
            && !["bo", "ran", "los", "cap"].iter().any(|end| place.before().ends_with(end.as_bytes())));
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
        b"ity"
            if place.word.ends_with(b"fruity")
                || place.word_is(&["biscuity", "dacoity", "hoity", "toity", "rabbity"]) =>
        {
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
        // electro-encephalogram: the sign for "en" keeps the word.
        b"ence" if place.rest().starts_with(b"phal") => no("10.11.6", "would hinder the reading of the word"),
        // anti-type, anti-typhoid.
        b"ity" if place.rest().starts_with(b"p") => no("10.11.5", "would hinder the reading of the word"),
        // non-gaseous, non-essential.
        b"ong" | b"ness" if place.word.starts_with(b"non") && (1..3).contains(&place.at) => {
            no("10.11.5", "would bridge the prefix and hinder recognition of the word")
        }
        // in-essential, un-essayed.
        b"ness" if matches!(place.before(), b"i" | b"u") => {
            no("10.11.5", "would bridge the prefix and hinder recognition of the word")
        }
        _ => None,
    }
}
