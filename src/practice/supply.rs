//! Words and sentences whose braille uses only signs learned so far; and how much of a text is known.
//!
//! The words and the frames are data files that the caller hands in ([`Supply::parse`]); nothing is built into the
//! program.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use super::passages::{self, Passage};
use super::reading::Reading;
use super::ready::Ready;
use super::units;
use crate::cell::Cell;
use crate::ueb::{self, Options, ReadOptions, register};

/// What there is to read and to write.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Supply {
    /// The graded texts.
    pub passages: Vec<Passage>,
    frames: Vec<String>,
    slots: Vec<(String, Vec<String>)>,
    words: Vec<String>,
    pub(super) ready: Ready,
    read: AlreadyRead,
}

/// The signs of what stands between two blanks; `None` where a cell has no meaning.
type SignsOfWord = Option<Rc<[&'static str]>>;

/// The signs of words that were looked at before: a session looks at hundreds of words for one that fits. It says nothing
/// that the words do not, so any two are the same.
#[derive(Clone, Debug, Default)]
struct AlreadyRead {
    words: RefCell<HashMap<String, [Option<SignsOfWord>; 2]>>,
    /// By a print, the places of the words in which it stands.
    with: RefCell<HashMap<&'static str, Rc<[u32]>>>,
}

impl PartialEq for AlreadyRead {
    fn eq(&self, _: &AlreadyRead) -> bool {
        true
    }
}

impl Eq for AlreadyRead {}

/// The place in the course of the unit after which a line can be read in full, from 0; the number of units when it
/// has a sign that the course does not teach. Spaces count as nothing.
pub fn level_of_line(line: &str, contracted: bool) -> usize {
    let beyond = units::units().len();
    let explained = ueb::explain(line, &Options { contracted, marks: true, ..Options::default() });
    if !explained.unhandled.is_empty() {
        return beyond;
    }
    let keys = explained.signs.iter().map(|used| register::get(used.sign).key);
    keys.filter(|key| *key != "space").map(|key| units::unit_of(key).unwrap_or(beyond)).max().unwrap_or(0)
}

/// The share of a text's cells, 0 to 1, that belong to signs the learner knows, and the unknown signs, the most
/// frequent first.
pub fn known_share(text: &str, contracted: bool, knows: impl Fn(&str) -> bool) -> (f64, Vec<&'static str>) {
    let options = Options { contracted, marks: true, ..Options::default() };
    let pieces = passages::pieces(text);
    let used = pieces.iter().flat_map(|piece| ueb::explain(piece, &options).signs);
    share_of(used.map(|used| (register::get(used.sign).key, used.cells.len())), knows)
}

/// The share of cells, 0 to 1, that belong to signs the learner knows, of signs given with how many cells each use of
/// them takes; and the unknown signs, the most frequent first. Spaces count as nothing.
pub fn share_of(
    uses: impl Iterator<Item = (&'static str, usize)>,
    knows: impl Fn(&str) -> bool,
) -> (f64, Vec<&'static str>) {
    let (mut known, mut all) = (0usize, 0usize);
    let mut unknown: HashMap<&'static str, usize> = HashMap::new();
    for (key, cells) in uses.filter(|(key, _)| *key != "space") {
        all += cells;
        if knows(key) {
            known += cells;
        } else {
            *unknown.entry(key).or_default() += 1;
        }
    }
    let mut first: Vec<(&'static str, usize)> = unknown.into_iter().collect();
    crate::order::sort_by_key(&mut first, |(key, count)| (std::cmp::Reverse(*count), *key));
    (known as f64 / all.max(1) as f64, first.into_iter().map(|(key, _)| key).collect())
}

impl Supply {
    /// Reads the data files: the graded texts, the sentence frames, the words, and the braille of all these.
    ///
    /// A frame is a line; `{slot}` in it takes any word of the line `slot = word | word`. Lines with `# ` in front are
    /// remarks.
    pub fn parse(texts: &str, frames: &str, words: &str, braille: &str) -> Supply {
        let (passages, ready) = (passages::parse(texts), Ready::parse(braille));
        let mut supply = Supply { passages, ready, ..Supply::default() };
        for line in frames.lines().filter(|line| !line.starts_with("# ") && !line.is_empty()) {
            match line.split_once(" = ") {
                Some((slot, words)) => {
                    supply.slots.push((slot.to_owned(), words.split(" | ").map(str::to_owned).collect()));
                }
                None => supply.frames.push(line.to_owned()),
            }
        }
        supply.words = words
            .lines()
            .filter(|line| !line.starts_with('#') && !line.is_empty())
            .map(str::to_owned)
            .collect();
        supply
    }

    /// A line in braille: a sentence of the frames, or a word. `None` when it is neither.
    pub fn cells(&self, line: &str, contracted: bool) -> Option<Vec<Cell>> {
        self.ready.line(line, contracted)
    }

    /// The graded texts, laid out for reading.
    pub fn readings(&self) -> impl Iterator<Item = Reading> {
        self.passages.iter().enumerate().map(|(place, passage)| {
            let mut ready = self.ready.text(place);
            passage.set(&mut |_| ready.next().unwrap_or_default())
        })
    }

    /// What stands between blanks in the sentences of the frames, whatever words they take.
    pub fn words_of_frames(&self) -> Vec<String> {
        let mut all = vec!["an".to_owned(), "An".to_owned()];
        let mut todo: Vec<String> =
            self.frames.iter().flat_map(|frame| frame.split(' ')).map(str::to_owned).collect();
        while let Some(word) = todo.pop() {
            let slot = word.split_once('{').and_then(|(_, rest)| rest.split_once('}'));
            match slot.and_then(|(slot, _)| self.slots.iter().find(|(name, _)| name == slot)) {
                Some((slot, words)) => {
                    let filled = words.iter().map(|one| word.replacen(&format!("{{{slot}}}"), one, 1));
                    todo.extend(filled);
                }
                None => all.extend(word.split(' ').map(str::to_owned)),
            }
        }
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The signs of a line, spaces left out, as [`level_of_line`] takes them.
    fn signs_of(&self, line: &str, contracted: bool) -> Option<Vec<&'static str>> {
        signs_of(&self.cells(line, contracted)?, contracted)
    }

    /// How many of the signs of a line are wanted ones.
    fn count_of(&self, line: &str, contracted: bool, wanted: &[&str]) -> usize {
        if wanted.is_empty() {
            return 0;
        }
        let signs = self.signs_of(line, contracted).unwrap_or_default();
        signs.iter().filter(|key| wanted.contains(key)).count()
    }

    /// Whether a line uses only signs of the units up to `unit`.
    fn fits(&self, line: &str, contracted: bool, unit: usize) -> bool {
        self.signs_of(line, contracted)
            .is_some_and(|signs| signs.iter().all(|key| units::unit_of(key).is_some_and(|of| of <= unit)))
    }

    /// The signs of a word, contracted or not; `None` when it is none of the words here.
    fn signs_of_word(&self, word: &str, contracted: bool) -> SignsOfWord {
        let place = usize::from(contracted);
        if let Some(known) = self.read.words.borrow().get(word).and_then(|known| known[place].clone()) {
            return known;
        }
        let signs: SignsOfWord = self.signs_of(word, contracted).map(Rc::from);
        self.read.words.borrow_mut().entry(word.to_owned()).or_default()[place] = Some(signs.clone());
        signs
    }

    /// The places of the words in which this print stands.
    fn words_with(&self, print: &'static str) -> Rc<[u32]> {
        if let Some(known) = self.read.with.borrow().get(print) {
            return known.clone();
        }
        let places = (0u32..).zip(&self.words).filter(|(_, word)| word.len() > 1 && word.contains(print));
        let places: Rc<[u32]> = places.map(|(place, _)| place).collect();
        self.read.with.borrow_mut().insert(print, places.clone());
        places
    }

    /// How many different wanted signs a line has; `None` when it has a sign that is not allowed.
    fn worth(&self, line: &str, choice: &Choice) -> Option<usize> {
        let mut wanted: Vec<&str> = Vec::new();
        for word in line.split(' ') {
            let signs = self.signs_of_word(word, choice.contracted)?;
            if !signs.iter().all(|key| (choice.allowed)(key)) {
                return None;
            }
            for key in signs.iter().filter(|key| choice.wanted.contains(key)) {
                if !wanted.contains(key) {
                    wanted.push(key);
                }
            }
        }
        Some(wanted.len())
    }

    /// A word of two letters or more with allowed signs alone, and how many different wanted signs it has: of some that
    /// have one of the first wanted ones the best, or any that fits.
    pub fn word_of<'a>(&'a self, choice: &Choice, chance: &mut fastrand::Rng) -> Option<(&'a str, usize)> {
        let look =
            |best: Option<(&'a str, usize)>, places: &mut dyn Iterator<Item = usize>, enough: usize| {
                let mut best = best;
                let mut fitting = 0;
                for word in places.map(|place| self.words[place].as_str()).filter(|word| word.len() > 1) {
                    let Some(worth) = self.worth(word, choice) else { continue };
                    if best.is_none_or(|(_, most)| worth > most) {
                        best = Some((word, worth));
                    }
                    fitting += 1;
                    if fitting == enough {
                        break;
                    }
                }
                best
            };
        let mut best = None;
        let prints = choice.wanted.iter().filter_map(|key| register::by_key(key)).map(|sign| sign.print);
        for print in prints.filter(|print| !print.is_empty()).take(6) {
            let places = self.words_with(print);
            let start = chance.usize(..places.len().max(1));
            best = look(
                best,
                &mut places[start..].iter().chain(&places[..start]).map(|place| *place as usize),
                10,
            );
        }
        if best.is_none() {
            let count = self.words.len();
            let (start, stride) = (chance.usize(..count.max(1)), stride_of(count));
            best = look(best, &mut (0..count).map(|n| (start + n * stride) % count), 1);
        }
        best
    }

    /// A sentence with allowed signs alone, and how many different wanted signs it has; the best of those tried.
    pub fn sentence_of(&self, choice: &Choice, chance: &mut fastrand::Rng) -> Option<(String, usize)> {
        let mut best: Option<(usize, String)> = None;
        for _ in 0..60 {
            let frame = self.frames.get(chance.usize(..self.frames.len().max(1)))?;
            let Some(text) = self.fill(frame, chance) else { continue };
            let Some(worth) = self.worth(&text, choice) else { continue };
            if best.as_ref().is_none_or(|(most, _)| worth > *most) {
                best = Some((worth, text));
            }
            if choice.wanted.is_empty() {
                break;
            }
        }
        best.map(|(worth, text)| (text, worth))
    }

    /// How many sentence frames there are.
    pub fn frame_count(&self) -> usize {
        self.frames.len()
    }

    /// The words, from SCOWL's smallest lists.
    pub fn words(&self) -> &[String] {
        &self.words
    }

    fn fill(&self, frame: &str, chance: &mut fastrand::Rng) -> Option<String> {
        let mut out = String::new();
        let mut rest = frame;
        let mut taken: Vec<&str> = Vec::new();
        while let Some((before, after)) = rest.split_once('{') {
            let (slot, tail) = after.split_once('}')?;
            // No word twice in one sentence.
            let (_, words) = self.slots.iter().find(|(name, _)| name == slot)?;
            let words: Vec<&str> = words.iter().map(String::as_str).filter(|w| !taken.contains(w)).collect();
            let word = words.get(chance.usize(..words.len().max(1)))?;
            taken.push(word);
            out.push_str(before);
            // "a apple" is no English.
            if word.starts_with(['a', 'e', 'i', 'o']) && (out.ends_with(" a ") || out.ends_with("A ")) {
                out.insert(out.len() - 1, 'n');
            }
            out.push_str(word);
            rest = tail;
        }
        out.push_str(rest);
        Some(out)
    }

    /// A sentence whose braille, fully contracted or uncontracted, uses only signs of the units up to `unit`; of those
    /// tried, the one with the most signs of `wanted`. `None` when none of them fits.
    pub fn sentence(
        &self,
        unit: usize,
        contracted: bool,
        wanted: &[&str],
        chance: &mut fastrand::Rng,
    ) -> Option<String> {
        let mut best: Option<(usize, String)> = None;
        for _ in 0..80 {
            let frame = self.frames.get(chance.usize(..self.frames.len().max(1)))?;
            let Some(text) = self.fill(frame, chance) else { continue };
            if !self.fits(&text, contracted, unit) {
                continue;
            }
            let score = self.count_of(&text, contracted, wanted);
            if best.as_ref().is_none_or(|(most, _)| score > *most) {
                best = Some((score, text));
            }
            if wanted.is_empty() || best.as_ref().is_some_and(|(most, _)| *most >= 3) {
                break;
            }
        }
        if best.is_none() {
            // In the first units few of the lines fit: they are looked for one by one.
            let from = chance.usize(..self.frames.len().max(1));
            let (before, after) = self.frames.split_at(from.min(self.frames.len()));
            return after
                .iter()
                .chain(before)
                .find_map(|frame| self.fill(frame, chance).filter(|text| self.fits(text, contracted, unit)));
        }
        best.map(|(_, text)| text)
    }

    /// A word whose braille uses only signs of the units up to `unit`; of a few that fit, the one with the most signs
    /// of `wanted`. `None` when no word of the list fits.
    pub fn word(
        &self,
        unit: usize,
        contracted: bool,
        wanted: &[&str],
        chance: &mut fastrand::Rng,
    ) -> Option<&str> {
        let count = self.words.len();
        let start = chance.usize(..count.max(1));
        // The letters that a wanted contraction stands for; a few signs at most, the dearest stand first.
        let prints: Vec<&str> = wanted
            .iter()
            .take(30)
            .filter_map(|key| register::by_key(key))
            .map(|sign| sign.print)
            .filter(|print| print.len() > 1)
            .collect();
        let stride = stride_of(count);
        let all = || (0..count).map(|n| self.words[(start + n * stride) % count].as_str());
        let fits = |word: &&str| self.fits(word, contracted, unit);
        let mut few: Vec<&str> = all()
            .filter(|word| prints.iter().any(|print| word.contains(print)))
            .filter(fits)
            .take(if contracted { 4 } else { 0 })
            .collect();
        few.extend(all().filter(fits).take(if wanted.is_empty() { 1 } else { 12 }));
        crate::order::sort_by_key(&mut few, |word| {
            std::cmp::Reverse(self.count_of(word, contracted, wanted))
        });
        few.first().copied()
    }
}

/// The keys of a line's signs as they are read, spaces left out; `None` where cells have no meaning.
pub fn signs_of(cells: &[Cell], contracted: bool) -> Option<Vec<&'static str>> {
    let pieces = ueb::read(cells, &ReadOptions { contracted, ..ReadOptions::default() }).pieces;
    let keys = pieces.iter().map(|piece| piece.sign.map(|sign| register::get(sign).key));
    keys.filter(|key| *key != Some("space")).collect()
}

/// What a line is chosen by.
#[derive(Clone, Copy)]
pub struct Choice<'a> {
    /// Contracted braille, or uncontracted.
    pub contracted: bool,
    /// Whether a sign may stand in it.
    pub allowed: &'a dyn Fn(&str) -> bool,
    /// The signs that it is to have, as many as can be.
    pub wanted: &'a [&'static str],
}

/// A stride that shares no factor with the count visits every word once.
fn stride_of(count: usize) -> usize {
    (1..).map(|n| n * 977 + 1).find(|stride| gcd(*stride, count) == 1).unwrap_or(1)
}

fn gcd(a: usize, b: usize) -> usize {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::ready;
    use super::*;

    /// A data file as it is shipped.
    pub fn file(name: &str) -> String {
        let path = format!("{}/www/data/{name}", env!("CARGO_MANIFEST_DIR"));
        std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
    }

    /// What is shipped, as the page has it.
    pub fn shipped() -> Supply {
        let [texts, frames, words] = ["passages.txt", "frames.txt", "words.txt"].map(file);
        Supply::parse(&texts, &frames, &words, &ready::write(&texts, &frames, &words))
    }

    #[test]
    fn every_slot_of_every_frame_has_words() {
        let mut chance = fastrand::Rng::with_seed(1);
        let supply = shipped();
        assert!(supply.frame_count() >= 300);
        for frame in &supply.frames {
            let text = supply.fill(frame, &mut chance);
            assert!(text.is_some_and(|text| !text.contains(['{', '}'])), "{frame}");
        }
        let mut unique = supply.frames.clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), supply.frame_count());
    }

    #[test]
    fn words_are_words_and_each_can_be_asked_at_its_level() {
        let supply = shipped();
        assert!(supply.words().len() > 5_000);
        assert!(supply.words().iter().all(|word| word.chars().all(|c| c.is_ascii_lowercase() || c == '\'')));
        let mut chance = fastrand::Rng::with_seed(3);
        for unit in 0..units::units().len() {
            for contracted in [false, true] {
                let word = supply.word(unit, contracted, &[], &mut chance);
                assert!(word.is_some_and(|word| level_of_line(word, contracted) <= unit), "unit {unit}");
            }
        }
        let due = supply.word(20, true, &["groupsign st"], &mut chance).unwrap();
        assert!(supply.count_of(due, true, &["groupsign st"]) >= 1, "{due}");
        // Rare in the list, and asked for all the same.
        let rare = supply.word(23, true, &["contraction ever"], &mut chance).unwrap();
        assert!(supply.count_of(rare, true, &["contraction ever"]) >= 1, "{rare}");
    }

    /// From the first unit on there is a line to write at every draw, and it fits.
    #[test]
    fn every_unit_has_a_sentence_at_every_draw() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(5);
        for unit in [0, 1, 2, 3] {
            for _ in 0..60 {
                let sentence = supply.sentence(unit, false, &[], &mut chance);
                assert!(sentence.is_some_and(|text| level_of_line(&text, false) <= unit), "unit {unit}");
            }
        }
    }

    /// Whoever practises at whatever unit, with a sound keyboard, is not told that it swallows keys.
    #[test]
    fn what_the_course_gives_to_write_is_no_fault_of_the_keyboard() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(7);
        for unit in 0..units::units().len() {
            for contracted in [false, true] {
                let mut holes = crate::keys::Holes::default();
                for _ in 0..60 {
                    let text = match supply.sentence(unit, contracted, &[], &mut chance) {
                        Some(sentence) if chance.bool() => sentence,
                        _ => supply.word(unit, contracted, &[], &mut chance).unwrap().to_owned(),
                    };
                    for cell in
                        ueb::transcribe(&text, &Options { contracted, marks: false, ..Options::default() })
                    {
                        assert_eq!(
                            holes.chord(cell, true),
                            None,
                            "unit {unit}, contracted: {contracted}, {text}"
                        );
                    }
                }
            }
        }
    }

    /// Ten thousand sentences, fifty of them printed for people to read
    /// (`cargo test --lib ten_thousand -- --nocapture`).
    #[test]
    fn ten_thousand_sentences_use_no_sign_before_its_unit_and_read_back_to_their_print() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(5);
        let last = units::units().len() - 1;
        let mut made = 0;
        while made < 10_000 {
            let unit = chance.usize(3..=last);
            let contracted = made % 2 == 0;
            let Some(text) = supply.sentence(unit, contracted, &[], &mut chance) else { continue };
            made += 1;
            let explained = ueb::explain(&text, &Options { contracted, marks: false, ..Options::default() });
            for used in &explained.signs {
                let key = register::get(used.sign).key;
                let known = units::unit_of(key).is_some_and(|of| of <= unit);
                assert!(key == "space" || known, "{key} in {text} at unit {unit}");
            }
            let back =
                ueb::read_print(&explained.cells, &ReadOptions { contracted, ..ReadOptions::default() });
            let straight = back.replace(['“', '”'], "\"").replace(['‘', '’'], "'");
            assert_eq!(straight, text);
            if made % 200 == 0 {
                println!("{text}");
            }
        }
    }
}
