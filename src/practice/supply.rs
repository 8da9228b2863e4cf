//! What there is to read: graded passages, sentences made from frames, words; and how much of a text is known.

use std::collections::{BTreeMap, HashMap};
use std::sync::OnceLock;

use super::units;
use crate::ueb::{self, Options, register};

/// A text to read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Passage {
    /// Its title.
    pub title: &'static str,
    /// Contracted or uncontracted.
    pub contracted: bool,
    /// The print, with line ends.
    pub text: String,
}

/// The passages, written for this project, in the order of their file.
pub fn passages() -> &'static [Passage] {
    static PASSAGES: OnceLock<Vec<Passage>> = OnceLock::new();
    PASSAGES.get_or_init(|| {
        include_str!("passages.txt")
            .split("\n== ")
            .skip(1)
            .filter_map(|block| {
                let (head, text) = block.split_once('\n')?;
                let (title, kind) = head.rsplit_once(" | ")?;
                Some(Passage { title, contracted: kind == "contracted", text: text.trim().to_owned() })
            })
            .collect()
    })
}

/// The place in the course of the unit after which a text can be read in full, from 0; the number of units when it
/// has a sign that the course does not teach. Spaces count as nothing.
pub fn level(text: &str, contracted: bool) -> usize {
    let options = Options { contracted, marks: true };
    let beyond = units::units().len();
    text.lines()
        .map(|line| {
            let explained = ueb::explain(line, &options);
            if !explained.unhandled.is_empty() {
                return beyond;
            }
            let signs = explained.signs.iter().map(|used| register::get(used.sign).key);
            signs
                .filter(|key| *key != "space")
                .map(|key| units::unit_of(key).unwrap_or(beyond))
                .max()
                .unwrap_or(0)
        })
        .max()
        .unwrap_or(0)
}

/// The share of a text's cells, 0 to 1, that belong to signs the learner knows, and the unknown signs, the most
/// frequent first.
pub fn known_share(text: &str, contracted: bool, knows: impl Fn(&str) -> bool) -> (f64, Vec<&'static str>) {
    let options = Options { contracted, marks: false };
    let (mut known, mut all) = (0usize, 0usize);
    let mut unknown: BTreeMap<&'static str, usize> = BTreeMap::new();
    for line in text.lines() {
        for used in ueb::explain(line, &options).signs {
            let sign = register::get(used.sign);
            if sign.key == "space" {
                continue;
            }
            all += used.cells.len();
            if knows(sign.key) {
                known += used.cells.len();
            } else {
                *unknown.entry(sign.key).or_default() += 1;
            }
        }
    }
    let mut first: Vec<(&'static str, usize)> = unknown.into_iter().collect();
    first.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    (known as f64 / all.max(1) as f64, first.into_iter().map(|(key, _)| key).collect())
}

struct Frames {
    frames: Vec<&'static str>,
    slots: HashMap<&'static str, Vec<&'static str>>,
}

fn frames() -> &'static Frames {
    static FRAMES: OnceLock<Frames> = OnceLock::new();
    FRAMES.get_or_init(|| {
        let mut all = Frames { frames: Vec::new(), slots: HashMap::new() };
        for line in
            include_str!("frames.txt").lines().filter(|line| !line.starts_with("# ") && !line.is_empty())
        {
            match line.split_once(" = ") {
                Some((slot, words)) => {
                    all.slots.insert(slot, words.split(" | ").collect());
                }
                None => all.frames.push(line),
            }
        }
        all
    })
}

/// How many sentence frames there are.
pub fn frame_count() -> usize {
    frames().frames.len()
}

fn fill(frame: &str, chance: &mut fastrand::Rng) -> Option<String> {
    let mut out = String::new();
    let mut rest = frame;
    while let Some((before, after)) = rest.split_once('{') {
        let (slot, tail) = after.split_once('}')?;
        let words = frames().slots.get(slot)?;
        out.push_str(before);
        out.push_str(words.get(chance.usize(..words.len()))?);
        rest = tail;
    }
    out.push_str(rest);
    Some(out)
}

/// A sentence whose braille, fully contracted or uncontracted, uses only signs of the units up to `unit`; of those
/// tried, the one with the most signs of `wanted`. `None` when none of them fits.
pub fn sentence(
    unit: usize,
    contracted: bool,
    wanted: &[&str],
    chance: &mut fastrand::Rng,
) -> Option<String> {
    let all = &frames().frames;
    let mut best: Option<(usize, String)> = None;
    for _ in 0..80 {
        let Some(text) = all.get(chance.usize(..all.len().max(1))).and_then(|frame| fill(frame, chance))
        else {
            continue;
        };
        if level(&text, contracted) > unit {
            continue;
        }
        let explained = ueb::explain(&text, &Options { contracted, marks: false });
        let score =
            explained.signs.iter().filter(|used| wanted.contains(&register::get(used.sign).key)).count();
        if best.as_ref().is_none_or(|(most, _)| score > *most) {
            best = Some((score, text));
        }
        if wanted.is_empty() || score >= 3 {
            break;
        }
    }
    best.map(|(_, text)| text)
}

/// Words for single reading and writing, from SCOWL's smallest lists.
pub fn words() -> &'static [&'static str] {
    static WORDS: OnceLock<Vec<&'static str>> = OnceLock::new();
    WORDS.get_or_init(|| include_str!("words.txt").lines().filter(|line| !line.starts_with('#')).collect())
}

/// A word whose braille uses only signs of the units up to `unit`.
pub fn word(unit: usize, contracted: bool, chance: &mut fastrand::Rng) -> Option<&'static str> {
    (0..400).find_map(|_| {
        let word = words().get(chance.usize(..words().len().max(1)))?;
        (level(word, contracted) <= unit).then_some(*word)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn passages_are_as_many_and_as_long_as_they_should_be() {
        let all = passages();
        assert!(all.len() >= 40, "{} passages", all.len());
        let short = all.iter().filter(|p| !p.contracted && p.text.split_whitespace().count() <= 120).count();
        assert!(short >= 20, "{short} short uncontracted texts");
        for passage in all {
            assert!(!passage.title.is_empty() && !passage.text.is_empty());
        }
    }

    #[test]
    fn every_slot_of_every_frame_has_words() {
        let mut chance = fastrand::Rng::with_seed(1);
        assert!(frame_count() >= 100);
        for frame in &frames().frames {
            let text = fill(frame, &mut chance);
            assert!(text.is_some_and(|text| !text.contains(['{', '}'])), "{frame}");
        }
        let mut unique = frames().frames.clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), frame_count());
    }

    #[test]
    fn sentences_use_no_sign_before_its_unit() {
        let mut chance = fastrand::Rng::with_seed(5);
        let last = units::units().len() - 1;
        for n in 0..2_000 {
            let unit = chance.usize(3..=last);
            let contracted = n % 2 == 0;
            let Some(text) = sentence(unit, contracted, &[], &mut chance) else { continue };
            let explained = ueb::explain(&text, &Options { contracted, marks: false });
            for used in explained.signs {
                let key = register::get(used.sign).key;
                assert!(
                    key == "space" || units::unit_of(key).is_some_and(|of| of <= unit),
                    "{key} in {text}"
                );
            }
            if n % 40 == 0 {
                println!("{text}");
            }
        }
    }
}
