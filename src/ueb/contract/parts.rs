//! Compounds that the lexicon does not list: a word that falls into two parts of `parts.txt`, or into a combining form
//! and the rest, has a seam there (10.11.1, 10.11.2, 10.11.5).

use std::sync::OnceLock;

use super::table::Table;

/// Which places of a compound a word may take.
#[derive(Clone, Copy, Default)]
struct Roles {
    first: bool,
    second: bool,
    form: bool,
}

fn parts() -> &'static Table<Roles> {
    static PARTS: OnceLock<Table<Roles>> = OnceLock::new();
    PARTS.get_or_init(|| {
        let mut roles: Vec<(Box<[u8]>, Roles)> = Vec::new();
        // The build script has made the list short: what a word shares with the one before it is told by a letter.
        for line in include_bytes!(concat!(env!("OUT_DIR"), "/parts.txt")).split(|byte| *byte == b'\n') {
            let [sum, words @ ..] = line else { continue };
            let has = |role: u8| (sum - b'0') & role != 0;
            let mut word: Vec<u8> = Vec::new();
            for (at, byte) in words.iter().enumerate() {
                if byte.is_ascii_uppercase() {
                    word.truncate(usize::from(byte - b'A'));
                } else {
                    word.push(*byte);
                }
                if words.get(at + 1).is_none_or(u8::is_ascii_uppercase) {
                    let role = Roles { first: has(1), second: has(2), form: has(4) };
                    roles.push((word.as_slice().into(), role));
                }
            }
        }
        Table::new(roles)
    })
}

/// Endings that a second part may take.
const ENDINGS: &[&[u8]] = &[
    b"s", b"es", b"d", b"ed", b"ing", b"ings", b"er", b"ers", b"y", b"ly", b"ish", b"like", b"less", b"ness",
    b"ful", b"man", b"men", b"ies", b"ied", b"edly", b"edness", b"able",
];

/// Second parts that begin with a sounded h and end a compound whatever its first part is, if that has a vowel; with
/// each the letters before it with which that holds. English words that end in the same letters by chance
/// (wood-chopper, work-shopper, Churchill, potsherd, thresh-old, black-thorn) are why not all stand in all places.
const SOUNDED: &[(&[u8], &[u8])] = &[
    (b"haul", b"stgwc"),
    (b"haus", b"stgwn"),
    (b"hawk", b"stgwc"),
    (b"head", b"stgwc"),
    (b"heap", b"stgw"),
    (b"heart", b"stgwc"),
    (b"heim", b"tg"),
    (b"herd", b"tgw"),
    (b"hide", b"gw"),
    (b"hill", b"stgw"),
    (b"hof", b"stgw"),
    (b"hog", b"tgw"),
    (b"hold", b"gw"),
    (b"holder", b"tgw"),
    (b"hole", b"stg"),
    (b"holm", b"tgw"),
    (b"home", b"sgw"),
    (b"hood", b"stgwc"),
    (b"hook", b"stgw"),
    (b"hopper", b"tgw"),
    (b"horn", b"sg"),
    (b"horse", b"stgwc"),
    (b"hound", b"stgwc"),
    (b"house", b"stgwc"),
    (b"hund", b"stgw"),
    (b"hunter", b"stgwc"),
    (b"hurst", b"stgwc"),
    (b"hammer", b"stgwc"),
    (b"haven", b"stgw"),
    (b"hair", b"stgw"),
    (b"hand", b"tgw"),
    (b"harnais", b"s"),
    (b"herbe", b"stg"),
];

/// What the first part is not, though one of those stands after it: thres-hold, mars-hund, Bat-hurst, cleans-haven, si-thole.
const NO_FIRST: &[&[u8]] = &[b"ant", b"anet", b"bat", b"cleans", b"mars", b"pots", b"sit", b"thres", b"uns"];

/// Whether a word may be the second part of a compound, also with an ending.
pub fn is_second(word: &[u8]) -> bool {
    if parts().get(word).is_some_and(|roles| roles.second) {
        return true;
    }
    ENDINGS.iter().any(|ending| {
        // flies: the stem's y is gone.
        let least = if matches!(*ending, b"ies" | b"ied") { 2 } else { 3 };
        let Some(stem) = word.strip_suffix(*ending).filter(|stem| stem.len() >= least) else { return false };
        let known = |stem: &[u8]| parts().get(stem).is_some_and(|roles| roles.second);
        let verbal = matches!(*ending, b"ing" | b"ings" | b"ed" | b"er" | b"ers");
        // runner, dropping: the consonant doubled.
        let n = stem.len();
        // A bare d is added to an e only (dived, but not bar-d), es to a hiss (benches, but not cab-bages); before
        // other vowels a single consonant after a short vowel is doubled (not cab-bagy, cab-baged).
        let short =
            n == 3 && !vowel(stem[0]) && vowel(stem[1]) && !vowel(stem[2]) && !b"wx".contains(&stem[2]);
        let whole = match *ending {
            b"d" => stem.ends_with(b"e"),
            b"es" => {
                [b"s".as_slice(), b"x", b"z", b"ch", b"sh", b"o"].iter().any(|hiss| stem.ends_with(hiss))
            }
            b"ies" | b"ied" => false,
            _ => !short || !vowel(ending[0]),
        };
        whole && known(stem) || verbal && n > 3 && stem[n - 1] == stem[n - 2] && known(&stem[..n - 1]) || {
            // diving, berries: the e or the y of the stem is gone.
            let gone: &[u8] = match *ending {
                b"ing" | b"ings" | b"able" | b"er" | b"ers" => b"e",
                b"ies" | b"ied" => b"y",
                _ => return false,
            };
            let mut buffer = [0; 24];
            n < 24 && {
                buffer[..n].copy_from_slice(stem);
                buffer[n] = gone[0];
                known(&buffer[..=n])
            }
        }
    })
}

/// Whether a word may be the first part of a compound.
pub fn is_first(word: &[u8]) -> bool {
    parts().get(word).is_some_and(|roles| roles.first)
}

/// Whether it is two second parts in one: light-house-keeper. Short words are found everywhere by chance (fin-germ-ark).
fn two_more(word: &[u8]) -> bool {
    (5..word.len().saturating_sub(4))
        .any(|at| parts().get(&word[..at]).is_some_and(|roles| roles.second) && is_second(&word[at..]))
}

/// What words of science that begin with f begin with.
const F_STEMS: &[&[u8]] = &[
    b"facial", b"fauna", b"fib", b"fich", b"film", b"flag", b"flav", b"fluid", b"fluor", b"form", b"foss",
    b"frac", b"frag", b"freq", b"fung",
];

fn vowel(c: u8) -> bool {
    matches!(c, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
}

/// Whether parts of a compound meet before letter `at`, as far as the list of parts knows.
pub fn meet(word: &[u8], at: usize) -> bool {
    if at < 3 || word.len() < at + 3 || word.len() > 40 {
        return false;
    }
    let (first, second) = word.split_at(at);
    let roles = parts().get(first).copied().unwrap_or_default();
    // micro-film, chemo-therapy, mono-unsaturated; not Geoffrey.
    let begins = |any: &[&[u8]]| any.iter().any(|start| second.starts_with(start));
    if roles.form && !begins(&[b"ff"]) && begins(&[b"f", b"therm", b"therap", b"uns"]) {
        return true;
    }
    // allow-ing, endow-ing: no form before a wing.
    let form = roles.form && !second.starts_with(b"wing");
    if (roles.first || form) && (is_second(second) || two_more(second)) {
        return true;
    }
    // fore-done, fore-reach, fore-noon, fore-admonish: the e is silent; not forensic.
    let next = |any: &[u8]| any.contains(&second[1]);
    if first == b"fore" {
        return match second[0] {
            b'a' => true,
            b'd' => next(b"aeiouyr"),
            b'n' | b'r' => next(b"aeiouy"),
            _ => false,
        };
    }
    if first == b"vice" && second[0] == b'r' {
        return true;
    }
    // fire-ant, white-ant: verbs in e lose it before an -ant that is an ending.
    // The e of pageant is there for the g.
    if roles.first
        && first.ends_with(b"e")
        && !first.ends_with(b"ge")
        && !first.ends_with(b"ce")
        && matches!(second, b"ant" | b"ants")
    {
        return true;
    }
    // herb-bed, zinc-coat: two of these after a consonant are letters of two words.
    if let [.., before, last @ (b'b' | b'c')] = first
        && second[0] == *last
        && !vowel(*before)
    {
        return true;
    }
    // out-howl, post-heat; not posthumous.
    if second[0] == b'h' && (first == b"out" || first == b"post" && !second.starts_with(b"hum")) {
        return next(b"aeiouy");
    }
    // Des-haies, Mont-herlant: the h of French names begins a part of its own.
    if second[0] == b'h' && (first == b"des" && next(b"ao") || first == b"mont" && second.starts_with(b"her"))
    {
        return true;
    }
    // East-ham.
    if matches!(first, b"east" | b"west") && second == b"ham" {
        return true;
    }
    // leuco-flavin: a form in o that the list lacks.
    if second[0] == b'f' && first.ends_with(b"o") && !first.ends_with(b"pro") && first.len() > 3 {
        let sounds = first.windows(2).filter(|two| vowel(two[0]) && !vowel(two[1])).count() + 1;
        return sounds > 1 && F_STEMS.iter().any(|stem| second.starts_with(stem));
    }
    // Aire-dale, Rose-dale: a name's first part ends in a silent e.
    if second.starts_with(b"dale") && matches!(&second[4..], b"" | b"s") && first.ends_with(b"e") {
        return true;
    }
    h_begins_a_part(first, second)
}

/// Whether the h after a vowel's part is that of one of [`SOUNDED`].
fn h_begins_a_part(first: &[u8], second: &[u8]) -> bool {
    let last = first[first.len() - 1];
    second[0] == b'h'
        && !NO_FIRST.contains(&first)
        && first.iter().any(|&c| vowel(c))
        && SOUNDED.iter().any(|(word, after)| {
            // Before a letter that makes no sign with the h it is all one.
            (after.contains(&last) || !b"stgwc".contains(&last))
                && second.strip_prefix(*word).is_some_and(|end| {
                    let german = matches!(*word, b"haus" | b"heim" | b"hof" | b"hund");
                    matches!(end, b"" | b"s")
                        || if german { *word != b"hund" && end == b"er" } else { ENDINGS.contains(&end) }
                })
        })
}

/// Whether the first part is a prefix or a combining form (10.11.5) and no word of its own (10.11.1).
pub fn is_prefix(first: &[u8]) -> bool {
    first == b"fore" || parts().get(first).map_or(first.ends_with(b"o"), |roles| roles.form && !roles.first)
}

/// Where in the `len` letters from `at` parts of a compound meet.
pub fn within(word: &[u8], at: usize, len: usize) -> Option<usize> {
    (at + 1..at + len).find(|&point| meet(word, point))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_sorted_and_lower_case() {
        let mut last = "";
        for word in
            include_str!("parts.txt").lines().filter(|l| !l.starts_with('#')).flat_map(str::split_whitespace)
        {
            if word.starts_with('[') {
                last = "";
                continue;
            }
            assert!(word > last && word.bytes().all(|c| c.is_ascii_lowercase()), "{word} after {last}");
            last = word;
        }
    }

    #[test]
    fn every_part_of_the_list_is_known_by_its_roles() {
        let mut section = "";
        for line in include_str!("parts.txt").lines().filter(|line| !line.starts_with('#')) {
            if line.starts_with('[') {
                section = line;
                continue;
            }
            for word in line.split_whitespace() {
                let roles = parts().get(word.as_bytes()).unwrap();
                let told = match section {
                    "[first]" => roles.first,
                    "[second]" => roles.second,
                    _ => roles.form,
                };
                assert!(told, "{word} {section}");
            }
        }
    }

    #[test]
    fn compounds_fall_into_their_parts() {
        for (word, at) in
            [("boathouse", 4), ("firedamp", 4), ("foreshore", 0), ("firewalking", 0), ("nosedived", 4)]
        {
            assert_eq!(within(word.as_bytes(), at.max(1) - 1, 2), (at > 0).then_some(at), "{word}");
        }
    }
}
