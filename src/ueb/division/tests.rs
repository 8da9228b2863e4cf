//! Divisions against the published examples. Source: The Rules of UEB 2013, sections 10.13 and 6.10; each row has its
//! section beside it.

use super::*;
use crate::cell;

/// The two halves as braille ASCII with a blank between, for the break before this letter.
fn at(print: &str, at: usize) -> String {
    divisions(print).into_iter().find(|d| d.at == at).map_or_else(
        || "undivided".to_owned(),
        |d| format!("{} {}", cell::to_ascii(&d.first), cell::to_ascii(&d.second)).to_lowercase(),
    )
}

#[test]
fn the_published_divisions() {
    let mut wrong = Vec::new();
    for (section, print, place, braille) in [
        ("10.13.1", "bandanna", 3, "ban- danna"),
        ("10.13.2", "about-face", 6, "ab- face"),
        ("10.13.2", "air-conditioned", 4, "air- 3di;n$"),
        ("10.13.2", "Aix-en-Provence", 7, ",aix-en- ,prov;e"),
        ("10.13.2", "CHILD-LIKE", 6, ",,*- ,,l"),
        ("10.13.2", "ebb-tide", 4, "ebb- tide"),
        ("10.13.2", "father-in-law", 7, "\"f- 9-law"),
        ("10.13.2", "first-begotten", 6, "f/- 2gott5"),
        ("10.13.2", "go-between", 3, "g- 2t"),
        ("10.13.2", "(in-depth)", 4, "\"<9- dep?\">"),
        ("10.13.2", "\"In-depth", 4, "8,in- dep?"),
        ("10.13.2", "man-eater", 4, "man- eat]"),
        ("10.13.2", "part-time", 5, "\"p- \"t"),
        ("10.13.2", "word-for-word", 5, "^w- =-^w"),
        ("10.13.3", "childlike", 5, "*ild- like"),
        ("10.13.3", "everything", 5, "\"ey- ?+"),
        ("10.13.4", "SmithInge", 5, ",smi?- ,9ge"),
        ("10.13.5", "\"Comin'?\"", 4, "8,com- in'80"),
        ("10.13.5", "shortenin'", 5, "%ort- 5in'"),
        ("10.13.6", "always\u{2014}except", 6, "alw ,-except"),
        ("10.13.6", "always\u{2014}except", 7, "alw,- except"),
        ("10.13.9", "bacon", 2, "ba- con"),
        ("10.13.9", "\"Disgusting!\"", 4, "8,dis- gu/+60"),
        ("10.13.9", "unconcerned", 5, "uncon- c]n$"),
        ("10.13.10", "eggnog", 3, "egg- nog"),
        ("10.13.10", "motheaten", 4, "mo?- eat5"),
        ("10.13.11", "carefully", 4, "c>e- fully"),
        ("10.13.11", "CEMENT.)", 2, ",,ce- m5t4\">"),
        ("10.13.11", "confusion?", 5, "3fu- sion8"),
        ("10.13.11", "rotations", 4, "rota- tions"),
        ("10.13.11", "vitality", 5, "vital- ity"),
        ("10.13.12", "afterimage", 5, "aft]- image"),
        ("10.13.12", "friendliness", 6, "fr- li;s"),
        ("10.13.12", "girlfriend", 4, "girl- fr"),
        ("10.13.12", "Goodall", 4, ",good- all"),
        ("10.13.12", "grandchildren", 5, "gr&- *n"),
        ("10.13.12", "hereinafter", 6, "\"h9- af"),
        ("10.13.12", "hereinbelow", 6, "\"h9- bel["),
        ("10.13.12", "Letterman", 6, ",lr- man"),
        ("10.13.12", "preconceived", 3, "pre- conceiv$"),
        ("10.13.12", "unnecessary", 2, "un- nec"),
        ("6.10.3", "100,000", 4, "#ajj1\" jjj"),
        ("6.10.3", "1,000,000", 6, "#a1jjj1\" jjj"),
        ("6.10.4", "100\u{2009}000\u{2009}000", 4, "#ajj\"\" jjj\"jjj"),
        ("6.10.3", "1234567890123", 6, "#abcdef\" ghijabc"),
    ] {
        let ours = at(print, place);
        if ours != braille {
            wrong.push(format!("{section} {print}: {ours}, not {braille}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

// 10.13.7: no lower wordsign next to a dash, across the line's end too; 10.13.8: "in" and "enough" keep theirs when an
// upper sign stands with them.
#[test]
fn lower_wordsigns_beside_a_dash() {
    assert_eq!(at("his\u{2014}hers", 3), "his ,-h]s");
    assert_eq!(at("enough\u{2014}bein'", 6), "5 ,-2in'");
}

// What is doubtful, or no syllable, stays whole.
#[test]
fn doubtful_places_are_not_offered() {
    for word in
        ["through", "strength", "friend", "a", "", "http://a.org/banana", "x", "McGANNEL", "123", "1.5"]
    {
        assert_eq!(divisions(word), [], "{word}");
    }
    // Within a shortform (10.13.12), in a digraph, one letter off: no syllable ends there (10.13.1; syllables from memory).
    for (word, place) in
        [("friendliness", 3), ("mother", 3), ("about-face", 1), ("teacher", 3), ("couldn't", 4)]
    {
        assert_eq!(at(word, place), "undivided", "{word} {place}");
    }
}

// 10.13.1: a compound's halves are syllables of their own (the words from memory).
#[test]
fn compounds_divide_at_their_seam() {
    for (word, place) in
        [("storeroom", 5), ("boathouse", 4), ("northeast", 5), ("toenail", 3), ("microfilm", 5)]
    {
        assert_ne!(at(word, place), "undivided", "{word}");
        assert_eq!(at(word, place - 1), "undivided", "{word}");
        assert_eq!(at(word, place + 1), "undivided", "{word}");
    }
}

// Both halves hold their own letters: each reads back, short ones apart ("ab-" by itself is read as "about-").
#[test]
fn halves_read_back() {
    let words =
        include_str!("../../../tests/data/wordlist.tsv").lines().filter_map(|line| line.split('\t').next());
    let mut count = 0;
    for word in words.filter(|word| word.len() > 3 && word.bytes().all(|c| c.is_ascii_lowercase())) {
        let long = |division: &Division| division.at > 3 && word.len() > division.at + 3;
        for division in divisions(word).into_iter().filter(long) {
            count += 1;
            let head = crate::ueb::read_print(&division.first, &Default::default());
            let tail = crate::ueb::read_print(&division.second, &Default::default());
            let head = head.trim_end_matches('-');
            assert_eq!(head.chars().count(), division.at, "{word}: {head} {tail}");
            assert!(word.starts_with(head), "{word}: {head} {tail}");
        }
    }
    assert!(count > 60, "{count} divisions");
}

/// A word of any length has an answer; a long one is told from its halves in the same way.
#[test]
fn words_of_any_length_are_divided_or_left_whole() {
    for syllable in ["ba", "b", "con", "ing"] {
        for letters in 1..=130 {
            let word: String = syllable.chars().cycle().take(letters).collect();
            for division in divisions(&word) {
                assert!(division.at > 0 && division.at < letters, "{word} at {}", division.at);
                assert!(halves(&word, division.at).is_some(), "{word} at {}", division.at);
            }
        }
    }
    // The longest that the patterns of syllables are asked for still finds them.
    assert!(!divisions(&"bana".repeat(15)).is_empty());
}

/// The two parts at a place that may be one or not, with a blank between.
fn forms(print: &str, at: usize) -> String {
    judge(print, at).parts.map_or_else(
        || "undivided".to_owned(),
        |d| format!("{} {}", cell::to_ascii(&d.first), cell::to_ascii(&d.second)).to_lowercase(),
    )
}

// 10.13.1 to 10.13.12, by rule: a part is contracted as the whole word is, and not as a word of its own.
#[test]
fn parts_are_written_as_the_whole_is() {
    let mut wrong = Vec::new();
    for (print, at, braille) in [
        ("chemotherapy", 5, "*emo- !rapy"),
        ("chemotherapy", 4, "*em- o!rapy"),
        ("multimedia", 5, "multi- m$ia"),
        ("multimedia", 3, "mul- tim$ia"),
        ("grasshopper", 5, "grass- hopp]"),
        ("grasshopper", 8, "grasshop- p]"),
        ("northeastern", 5, "nor?- ea/]n"),
        ("storeroom", 5, "/ore- room"),
        ("disappearing", 3, "dis- appe>+"),
        ("disappearing", 5, "4ap- pe>+"),
        ("condition", 3, "con- di;n"),
        ("believing", 2, "be- liev+"),
        ("believing", 6, "2liev- 9g"),
        ("rabbit", 3, "rab- bit"),
        ("waiting", 4, "wait- 9g"),
        ("bringing", 5, "br+- 9g"),
        ("carefulness", 7, "c>e;l- ness"),
        ("stationary", 3, "/a- tion>y"),
        ("absolute", 2, ";ab- solute"),
        ("final", 3, "f9- ;al"),
        ("legal", 3, "leg- ;al"),
        ("accord", 2, ";ac- cord"),
        ("shallow", 4, "%al- l["),
        ("forget", 3, "=- get"),
        ("inside", 2, "in- side"),
        ("\"inside\"", 3, "8in- side0"),
        ("under", 2, "un- d]"),
        ("understand", 5, "\"u- /&"),
        ("someday", 4, "\"s- \"d"),
        ("grandmother", 5, "gr&- \"m"),
        ("Afternoon", 5, "undivided"),
        ("afternoons", 5, "undivided"),
        ("LETTERING", 6, ",,lr- 9g"),
        ("encounter", 2, "en- c.t]"),
        ("otherwise", 5, "o!r- wise"),
        ("theatre", 3, "!- atre"),
    ] {
        let ours = forms(print, at);
        if ours != braille {
            wrong.push(format!("{print} {at}: {ours}, not {braille}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

// Places as dictionaries of English have them (from memory), and places that none has.
#[test]
fn places_are_judged() {
    let mut wrong = Vec::new();
    for (allowed, words) in [
        (
            Allowed::Yes,
            "ban-danna ta-ble pen-cil win-ter sis-ter pic-ture car-pet gar-den num-ber let-ting mis-take \
             north-east boat-house some-thing every-one care-ful dark-ness pave-ment na-tion friend-ship \
             grass-hopper in-side out-side bas-ket rab-bit but-ton hap-pen yel-low",
        ),
        (
            Allowed::No,
            "thi-rd bo-at len-gth leng-th stren-gth frie-nd th-rough thr-ough hou-se jum-ped lov-ed mot-her teac-her \
             wi-nter so-mething gra-sshopper cha-nce wor-ld fi-rst clo-thes sc-hool ni-ght kni-fe tab-le brea-the \
             mis-hmash tong-ue squ-are cl-oud dre-ss h-ouse boa-t co-at",
        ),
        (Allowed::YourCall, "ri-ver kitch-en tea-pot paint-er ma-gic hon-our ci-ty pro-ject"),
    ] {
        for word in words.split_whitespace() {
            let at = word.find('-').unwrap();
            let print = word.replacen('-', "", 1).replace('-', "");
            let judged = judge(&print, at);
            let right = match allowed {
                // Where dictionaries differ, patterns may know the place.
                Allowed::YourCall => judged.allowed != Allowed::No,
                other => judged.allowed == other,
            };
            if !right {
                wrong.push(format!("{word}: {:?} ({})", judged.allowed, judged.why));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

// 6.10.2 to 6.10.4, 10.13.2, 10.13.6, 10.13.12.
#[test]
fn numbers_joints_and_shortforms_are_judged() {
    for (print, at, allowed, section) in [
        ("1,000,000", 2, Allowed::Yes, "6.10.3"),
        ("1,000,000", 3, Allowed::No, "6.10.2"),
        ("1,000,000", 1, Allowed::No, "6.10.2"),
        ("100\u{2009}000", 4, Allowed::Yes, "6.10.4"),
        ("1234567890123", 6, Allowed::Yes, "6.10.3"),
        ("12345", 2, Allowed::No, "6.10.2"),
        ("about-face", 6, Allowed::Yes, "10.13.2"),
        ("about-face", 5, Allowed::No, "10.13.1"),
        ("always\u{2014}except", 6, Allowed::Yes, "10.13.6"),
        ("friendliness", 3, Allowed::No, "10.13.12"),
        ("friendliness", 6, Allowed::Yes, "10.13.12"),
        ("children", 5, Allowed::No, "10.13.12"),
    ] {
        let judged = judge(print, at);
        assert_eq!((judged.allowed, judged.section), (allowed, section), "{print} {at}: {}", judged.why);
    }
}

// 10.13.1: away from the break a part is written as the whole word is: nothing changes before the sign that the break
// cuts or touches, and one more.
#[test]
fn nothing_changes_away_from_the_break() {
    let own = std::env::var("CELLWRIGHT_WORDS").ok().map(|path| std::fs::read_to_string(path).unwrap());
    let listed = include_str!("../../../tests/data/wordlist.tsv");
    let words = own.as_deref().unwrap_or(listed).lines().filter_map(|line| line.split('\t').next());
    let (mut count, mut wrong) = (0, Vec::new());
    for word in words.filter(|word| word.bytes().all(|c| c.is_ascii_lowercase())) {
        let whole = explain(word, &Options::default());
        for division in divisions(word) {
            count += 1;
            let near = whole.signs.iter().position(|sign| sign.print.end >= division.at).unwrap();
            let kept = whole.signs[near.saturating_sub(2)].cells.start;
            let head = &division.first[..division.first.len() - 1];
            // A grade 1 indicator may stand before either part (10.9.5).
            let guarded = |cells: &[Cell]| cells.first() == Cell::from_dots(&[5, 6]).as_ref();
            let far = whole.signs.iter().rposition(|sign| sign.print.start <= division.at).unwrap();
            let rest = whole.signs.get(far + 3).map_or(whole.cells.len(), |sign| sign.cells.start);
            let fits = (guarded(head) || head.starts_with(&whole.cells[..kept.min(head.len())]))
                && division.second.ends_with(
                    &whole.cells[rest.max(whole.cells.len().saturating_sub(division.second.len()))..],
                );
            if !fits {
                wrong.push(format!(
                    "{word}: {} {}, whole {}",
                    cell::to_ascii(&division.first),
                    cell::to_ascii(&division.second),
                    cell::to_ascii(&whole.cells)
                ));
            }
        }
    }
    println!("{count} divisions");
    assert!(count > 300 && wrong.is_empty(), "{} wrong: {:#?}", wrong.len(), &wrong[..wrong.len().min(80)]);
}
