//! Shortforms (10.9): as words, and in longer words.

use std::sync::OnceLock;

use super::table::Table;
use crate::ueb::register::{self, Class, Sign, SignId};

/// A shortform in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its first letter's place.
    pub at: usize,
    /// How many letters it stands for.
    pub len: usize,
    /// The sign.
    pub sign: SignId,
    /// The section that asks for it.
    pub section: &'static str,
}

/// The shortforms of a word, in order; most words have none.
pub type Places = Vec<Place>;

/// A word of more letters, or cells, has no shortform: none is written, and none looked for by a reader, which keeps
/// reading linear.
pub(crate) const LONGEST: usize = 60;
/// No word of the list has more cells than these.
pub(crate) const LONGEST_LISTED: usize = 30;
/// Nor has a word of the list more shortforms than these.
pub(crate) const MOST_LISTED: usize = 3;

struct Shortforms {
    /// The 75 words, and the longer words of Appendix 1, with the shortforms they hold.
    listed: Table<Places>,
}

/// Words to which an added "s" gives no shortform (Appendix 1, from memory; "hims" stands in 10.9.2's examples).
const NO_PLURAL: [&[u8]; 3] = [b"about", b"almost", b"him"];

fn shortforms() -> &'static Shortforms {
    static SHORTFORMS: OnceLock<Shortforms> = OnceLock::new();
    SHORTFORMS.get_or_init(|| {
        let signs: Vec<&Sign> =
            register::signs().iter().filter(|sign| sign.class == Class::Shortform).collect();
        let sign_of = |word: &str| signs.iter().find(|sign| sign.print == word).map(|sign| sign.id);
        let mut longer: Vec<(&str, Vec<&str>)> = Vec::new();
        let mut places_of = std::collections::HashMap::new();
        let mut holds = |long: &'static str, word: &'static str| {
            let at = *places_of.entry(long).or_insert_with(|| {
                longer.push((long, Vec::new()));
                longer.len() - 1
            });
            if !longer[at].1.contains(&word) {
                longer[at].1.push(word);
            }
        };
        let mut listed: Vec<(Box<[u8]>, Places)> = Vec::new();
        for line in include_str!("shortforms.txt").lines().filter(|line| !line.starts_with('#')) {
            let (word, words) = line.split_once('\t').unwrap_or((line, ""));
            let Some(sign) = sign_of(word) else { continue };
            let whole = Place { at: 0, len: word.len(), sign, section: "10.9.1" };
            listed.push((word.as_bytes().into(), vec![whole]));
            for long in words.split_whitespace() {
                holds(long, word);
                // Letters between apostrophes and hyphens come here alone: "mustn" of "mustn't".
                for piece in long.split(['\'', '-']) {
                    if piece.len() < long.len() && piece != word && piece.contains(word) {
                        holds(piece, word);
                    }
                }
            }
        }
        for (long, mut words) in longer {
            // The longest first: "afternoon" holds "after" too.
            crate::order::sort_by_key(&mut words, |word| std::cmp::Reverse(word.len()));
            let mut places: Places = Vec::new();
            for word in words {
                if let (Some(at), Some(sign)) = (long.find(word), sign_of(word))
                    && places.iter().all(|p| at + word.len() <= p.at || p.at + p.len <= at)
                {
                    places.push(Place { at, len: word.len(), sign, section: "10.9.2" });
                }
            }
            crate::order::sort_by_key(&mut places, |place| place.at);
            listed.push((long.as_bytes().into(), places));
        }
        Shortforms { listed: Table::new(listed) }
    })
}

/// The shortforms of a word in lower case that stands alone, in order; none when it has none.
pub fn places(word: &[u8]) -> Places {
    let listed = &shortforms().listed;
    if let Some(places) = listed.get(word) {
        return places.clone();
    }
    if let Some(stem) = word.strip_suffix(b"s")
        && let Some(places) = listed.get(stem)
    {
        if NO_PLURAL.contains(&stem) {
            return Vec::new();
        }
        return places.iter().map(|&place| Place { section: "10.9.2", ..place }).collect();
    }
    unlisted(word)
}

/// Every shortform's word with its sign.
pub(super) fn all() -> impl Iterator<Item = (&'static [u8], SignId)> {
    let whole = |places: &Places| places.first().is_some_and(|place| place.section == "10.9.1");
    let listed = shortforms().listed.iter().filter(move |(_, places)| whole(places));
    listed.map(|(word, places)| (&**word, places[0].sign))
}

/// Shortforms that may begin any word, if no vowel or y follows (10.9.3).
pub(crate) const BEGIN: [&[u8]; 7] = [b"blind", b"first", b"friend", b"good", b"letter", b"little", b"quick"];

/// The ten shortforms that may be used in words that are not listed (10.9.3).
fn unlisted(word: &[u8]) -> Places {
    let mut places = Vec::new();
    if word.len() > LONGEST {
        return places;
    }
    let vowel_at = |at: usize| matches!(word.get(at), Some(b'a' | b'e' | b'i' | b'o' | b'u' | b'y'));
    let mut at = 0;
    while at + 5 <= word.len() {
        let rest = &word[at..];
        let found: Option<&[u8]> = match word[at] {
            b'b' if rest.starts_with(b"braille") => Some(b"braille"),
            b'g' if rest.starts_with(b"great") => Some(b"great"),
            b'c' if rest.starts_with(b"children") && !vowel_at(at + 8) => Some(b"children"),
            _ if at == 0 => BEGIN.into_iter().find(|short| rest.starts_with(short) && !vowel_at(short.len())),
            _ => None,
        };
        let sign = found.and_then(|short| shortforms().listed.get(short)?.first().copied());
        match sign {
            Some(place) => {
                places.push(Place { at, section: "10.9.3", ..place });
                at += place.len;
            }
            None => at += 1,
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(word: &str) -> String {
        let mut out = String::new();
        let mut at = 0;
        for place in places(word.as_bytes()) {
            out.push_str(&word[at..place.at]);
            out.push_str(&crate::cell::to_ascii(&register::get(place.sign).cells));
            at = place.at + place.len;
        }
        out + &word[at..]
    }

    // The Rules of UEB 2013, 10.9.1 to 10.9.3.
    #[test]
    fn the_books_examples() {
        for (word, braille) in [
            ("about", "ab"),
            ("boyfriends", "boyfrs"),
            ("hims", "hims"),
            ("suchlike", "s*like"),
            ("firstbank", "f/bank"),
            ("firstamerica", "firstamerica"),
            ("goodacre", "goodacre"),
            ("greatorex", "grtorex"),
            ("quicksburg", "qksburg"),
            ("linkletter", "linkletter"),
            ("afterimage", "afterimage"),
            ("immediately", "immly"),
            ("goodafternoon", "gdafn"),
            ("declared", "dcld"),
            ("tomorrows", "tms"),
        ] {
            assert_eq!(written(word), braille, "{word}");
        }
    }

    #[test]
    fn all_seventy_five() {
        let listed = || shortforms().listed.iter();
        assert_eq!(listed().filter(|(_, places)| places[0].section == "10.9.1").count(), 75);
        for (word, places) in listed() {
            assert!(!places.is_empty(), "{}", String::from_utf8_lossy(word));
        }
    }

    /// What the whole engine writes for a word or phrase.
    fn transcribed(print: &str) -> String {
        crate::cell::to_ascii(&crate::ueb::transcribe(print, &Default::default()))
    }

    /// The shortforms in what the engine writes, by their words.
    fn used(print: &str) -> Vec<&'static str> {
        let signs = crate::ueb::explain(print, &Default::default()).signs;
        let signs = signs.iter().map(|use_| register::get(use_.sign));
        signs.filter(|sign| sign.class == Class::Shortform).map(|sign| sign.print).collect()
    }

    // Source: The Rules of UEB 2013, Appendix 1 (the words of shortforms.txt): every one of the 75, and each longer word,
    // uses its shortform, and is read back as it was.
    #[test]
    fn every_word_of_the_list_uses_its_shortform_and_reads_back() {
        let (mut words, mut wrong) = (0, Vec::new());
        for line in include_str!("shortforms.txt").lines().filter(|line| !line.starts_with('#')) {
            let (short, longer) = line.split_once('\t').unwrap_or((line, ""));
            for word in std::iter::once(short).chain(longer.split_whitespace()) {
                words += 1;
                let cells = crate::ueb::transcribe(word, &Default::default());
                let back = crate::ueb::read_print(&cells, &Default::default());
                // A longer shortform may hold a shorter one: "afternoon" in "goodafternoon".
                let covered = used(word).iter().any(|form| *form == short || form.contains(short));
                if !covered || back != word {
                    wrong.push(format!("{word}: {}, read as {back}", crate::cell::to_ascii(&cells)));
                }
            }
        }
        println!("{words} words of Appendix 1");
        assert!(words > 580 && wrong.is_empty(), "{} wrong: {wrong:#?}", wrong.len());
    }

    // 10.9.2: also with an affix behind an apostrophe; beside an existing hyphen (10.9.1).
    #[test]
    fn affixes_and_hyphens() {
        for (print, braille) in [
            ("tomorrow's", "tm's"),
            ("children's", "*n's"),
            ("grandchildren's", "gr&*n's"),
            ("friend's", "fr's"),
            ("about-face", "ab-face"),
            ("go-between", "g-2t"),
            ("letters", "lrs"),
            ("blindfolds", "blfolds"),
            ("afternoons", "afns"),
            ("must've", "m/'ve"),
        ] {
            assert_eq!(transcribed(print), braille, "{print}");
        }
    }

    /// Words that use no shortform.
    const BARRED: &[&str] = &[
        // 10.9.2, the book's
        "aftereffect",
        "afterimage",
        "friendy",
        "hims",
        "hereinbelow",
        "inbetween",
        "Suchet",
        "Yourcenar",
        // 10.9.3, the book's
        "Firstamerica",
        "Goodacre",
        "Linkletter",
        "Portlittle",
        "Makegood",
        "Letterewe",
        // by 10.9.3 (c): a vowel or y follows
        "blinded",
        "blinder",
        "blinding",
        "firsty",
        "friended",
        "goodery",
        "littley",
        "Goodall",
        "Goodyer",
        "Quickenden",
        "Blinda",
        // by 10.9.3 (c): not at the beginning
        "sunblind",
        "Doolittle",
        "penfriendship",
        "Osgood",
        "Thoroughgood",
        "Longfriend",
        // by 10.9.2: on no list, and none of the ten
        "muster",
        "mustang",
        "Muchmore",
        "himalaya",
        "paidagogue",
        "Abovian",
        "againe",
        "Alsop",
        "todayish",
        "Youra",
        "couldron",
        "Woulder",
        "Shoulder",
        "saidia",
        "Tomorrowland",
        "unbecause",
        "Behinde",
        "Beyonder",
        "Altogethered",
        "suchness",
        "Musters",
    ];

    /// Words that use one, though they are not on the list.
    const USED: &[(&str, &str)] = &[
        // the book's
        ("Greatford", ",grt=d"),
        ("Greatorex", ",grtorex"),
        ("Blindcraft", ",blcraft"),
        ("Firstbank", ",f/bank"),
        ("Feelgreat", ",feelgrt"),
        ("Quicksburg", ",qksburg"),
        ("Littleport", ",llport"),
        ("Letterkenny", ",lrk5ny"),
        // by 10.9.3
        ("Goodwin", ",gdw9"),
        ("Goodrich", ",gdri*"),
        ("Quickborn", ",qkborn"),
        ("Littlewood", ",llwood"),
        ("Littleton", ",llton"),
        ("Blindheim", ",blheim"),
        ("Friendswood", ",frswood"),
        ("Lettermore", ",lrmore"),
        ("Greatham", ",grtham"),
        ("brailles", "brls"),
        ("Braillenet", ",brlnet"),
        ("stepgrandchildren", "/epgr&*n"),
        ("Childrenswear", ",*nswe>"),
        ("firsthandedness", "f/h&$;s"),
    ];

    // 10.9.2 and 10.9.3: words that are not on the list use no shortform, unless it is one of the ten that may be used in
    // any word: "braille" and "great" wherever they occur, "children" when no vowel or y follows, and seven at the
    // beginning of a word when no vowel or y follows. Examples of those sections, and words that they decide alike.
    #[test]
    fn words_that_are_not_on_the_list() {
        for barred in BARRED {
            assert_eq!(used(barred), Vec::<&str>::new(), "{barred}: {}", transcribed(barred));
        }
        for (print, braille) in USED {
            assert_eq!(transcribed(print), *braille, "{print}");
        }
    }

    // 10.9.4 to 10.9.6: what stands in grade 1 mode, or beside letters that would be read as a shortform, has none itself;
    // 10.6.1: "belittle" has its groupsign, so that "bell" is not read as it; 2.6: letters on both sides of a capitals
    // terminator do not stand alone. By rule.
    #[test]
    fn letters_that_would_be_read_as_a_shortform() {
        for (print, braille) in [
            ("greatchn", "gr1tchn"),
            ("greatbrl", ";;greatbrl"),
            ("blgreat", ";blgr1t"),
            ("gdafn", ";gdafn"),
            ("bell", "bell"),
            ("BLTs", ",,blt,'s"),
        ] {
            assert_eq!(transcribed(print), braille, "{print}");
            assert_eq!(
                crate::ueb::read_print(
                    &crate::ueb::transcribe(print, &Default::default()),
                    &Default::default()
                ),
                print
            );
        }
    }

    // Found by fuzzing: a shortform is written only where it is read as one.
    #[test]
    fn words_longer_than_any_are_read_as_they_were() {
        for print in [
            "greatgreatgreatgreat".to_owned(),
            "brl".repeat(10) + "great",
            "nl".repeat(13) + "great",
            "chn".repeat(4),
            "chn".repeat(5),
            "chn".repeat(30),
            "children".repeat(3) + "chnchn",
            "chngrtbrlchngrt".to_owned(),
            "great".repeat(12) + "children",
        ] {
            for print in [print.clone(), print + "s"] {
                let cells = crate::ueb::transcribe(&print, &Default::default());
                assert_eq!(crate::ueb::read_print(&cells, &Default::default()), print);
            }
        }
    }

    // 10.9.3: "children" and "great" wherever they occur, however many there are.
    #[test]
    fn children_after_many_greats() {
        for (print, braille) in [
            ("greatgrandchildren", "grtgr&*n"),
            ("greatgreatgreatgrandchildren", "grtgrtgrtgr&*n"),
            ("greatgreatgreatgreatgrandchildren", "grtgrtgrtgrtgr&*n"),
            ("schoolchildrenchildren", "s*ool*n*n"),
        ] {
            assert_eq!(transcribed(print), braille, "{print}");
            let cells = crate::ueb::transcribe(print, &Default::default());
            assert_eq!(crate::ueb::read_print(&cells, &Default::default()), print);
        }
    }

    // 10.9.1, 2.6: not where the word does not stand alone.
    #[test]
    fn only_where_the_word_stands_alone() {
        for print in ["print/braille", "www.afterschool.gov", "braille_it_better", "PRINT/BRAILLE"] {
            assert_eq!(used(print), Vec::<&str>::new(), "{print}");
        }
    }
}
