//! What the figures count: sums over answers, texts and runs, of those kept one by one and of those long past.

use std::collections::{BTreeMap, BTreeSet};

use super::due::PAUSE;
use super::record::{Answer, Direction, Event, Record};

/// Times of answers long past are kept in steps of this many milliseconds, as the page shows them.
const STEP: u64 = 100;
/// So many of the last answers about the dots of a cell say how much help is needed.
const LATE: usize = 50;

/// The sums of a record.
#[derive(Clone, Debug, Default)]
pub struct Sums {
    /// Answers, and those right at first sight.
    pub answers: (u32, u32),
    /// Time practised, in milliseconds; a pause counts as nought.
    pub practised_ms: u64,
    /// Wrong answers by cause: eye, hand, rule.
    pub causes: [u32; 3],
    /// How often a sign was taken for something: sign asked, what was answered.
    pub pairs: BTreeMap<(String, String), u32>,
    /// Answers of each day (days since 1970), and those right at first sight.
    pub days: BTreeMap<u64, (u32, u32)>,
    /// Of each sign: answers, those right at first sight, and how often a right answer took so many milliseconds.
    pub signs: BTreeMap<String, (u32, u32, BTreeMap<u64, u32>)>,
    /// Words and cells read of texts, and their time in milliseconds.
    pub read: (u32, u32, u64),
    /// Six-key runs in order of time: cells, cells right, milliseconds.
    pub runs: Vec<(u32, u32, u64)>,
    /// Of the last answers about the dots of a cell, in order of time: whether they were right at first sight.
    pub low: Vec<bool>,
    /// The signs asked before the first session, and whether there was a session.
    pub asked: (BTreeSet<String>, bool),
}

/// Right without a clue.
pub fn good(answer: &Answer) -> bool {
    answer.right && answer.clues == 0
}

fn add(to: &mut (u32, u32), of: (u32, u32)) {
    *to = (to.0.saturating_add(of.0), to.1.saturating_add(of.1));
}

impl Sums {
    /// The sums of a record with its past; `day_of` gives the day of the learner's own calendar on which a moment falls, in days
    /// since 1970.
    pub fn of(record: &Record, mut day_of: impl FnMut(u64) -> u64) -> Sums {
        let mut sums = Sums::of_past(record);
        for answer in record.answers() {
            sums.take(&answer, day_of(answer.at));
        }
        for (_, event) in record.in_time() {
            sums.take_event(event);
        }
        let late = sums.low.len().saturating_sub(LATE);
        sums.low.drain(..late);
        sums
    }

    fn take(&mut self, answer: &Answer, day: u64) {
        let right = u32::from(good(answer));
        add(&mut self.answers, (1, right));
        let practised = if answer.ms <= PAUSE { answer.ms } else { 0 };
        self.practised_ms = self.practised_ms.saturating_add(practised);
        add(self.days.entry(day).or_default(), (1, right));
        let sign = self.signs.entry(answer.sign.clone()).or_default();
        (sign.0, sign.1) = (sign.0.saturating_add(1), sign.1.saturating_add(right));
        if answer.right && answer.ms <= PAUSE {
            *sign.2.entry(answer.ms).or_default() += 1;
        }
        if answer.direction == Direction::CellNumbers {
            self.low.push(good(answer));
        }
        if !answer.right {
            if !answer.instead.is_empty() {
                *self.pairs.entry((answer.sign.clone(), answer.instead.clone())).or_default() += 1;
            }
            if let Some(n) = ["eye", "hand", "rule"].iter().position(|cause| answer.cause.starts_with(cause))
            {
                self.causes[n] += 1;
            }
        }
    }

    fn take_event(&mut self, event: &Event) {
        match event {
            Event::Text { words, cells, ms, .. } => {
                // A record comes from anywhere: it may claim more than can be counted.
                self.read.0 = self.read.0.saturating_add(*words);
                self.read.1 = self.read.1.saturating_add(*cells);
                self.read.2 = self.read.2.saturating_add(*ms);
                // One line was read sign by sign; its time is in the answers already.
                let apart = if *words > 12 { *ms } else { 0 };
                self.practised_ms = self.practised_ms.saturating_add(apart);
            }
            Event::Run { cells, right, ms, .. } if *ms > 0 => {
                self.practised_ms = self.practised_ms.saturating_add(*ms);
                self.runs.push((*cells, *right, *ms));
            }
            Event::Session { .. } => self.asked.1 = true,
            Event::Answer(answer) if !self.asked.1 => {
                self.asked.0.insert(answer.sign.clone());
            }
            _ => {}
        }
    }

    /// The median of the times of right answers, in milliseconds; 0 with none.
    pub fn median(times: impl Iterator<Item = (u64, u32)>) -> u64 {
        let mut all: BTreeMap<u64, u64> = BTreeMap::new();
        for (ms, count) in times {
            *all.entry(ms).or_default() += u64::from(count);
        }
        let middle = all.values().sum::<u64>() / 2;
        let mut before = 0;
        let over = |(_, count): &(&u64, &u64)| {
            before += **count;
            before > middle
        };
        all.iter().find(over).map_or(0, |(ms, _)| *ms)
    }

    /// The sums as lines of a past.
    pub(super) fn to_lines(&self) -> Vec<String> {
        let spaced = |parts: Vec<String>| parts.join(" ");
        let ([eye, hand, rule], (words, cells, ms)) = (self.causes, self.read);
        let (all, right) = self.answers;
        let practised = self.practised_ms;
        let mut lines =
            vec![format!("sums\t{all}\t{right}\t{practised}\t{eye}\t{hand}\t{rule}\t{words}\t{cells}\t{ms}")];
        let days = self.days.iter().map(|(day, (all, right))| format!("{day}.{all}.{right}"));
        lines.push(format!("days\t{}", spaced(days.collect())));
        // Each name once; a pair by the places of its two.
        let named: BTreeSet<&String> =
            self.pairs.keys().flat_map(|(sign, instead)| [sign, instead]).collect();
        let names: Vec<&String> = named.into_iter().collect();
        lines.push(format!("names\t{}", names.iter().map(|name| flat(name)).collect::<Vec<_>>().join("\t")));
        let place = |name: &String| names.binary_search(&name).unwrap_or_default();
        let pair = |((sign, instead), times): (&(String, String), &u32)| {
            format!("{}.{}.{times}", place(sign), place(instead))
        };
        lines.push(format!("pairs\t{}", spaced(self.pairs.iter().map(pair).collect())));
        for (sign, (all, right, times)) in &self.signs {
            let mut steps: BTreeMap<u64, u32> = BTreeMap::new();
            for (ms, count) in times {
                let step = steps.entry((ms + STEP / 2) / STEP).or_default();
                *step = step.saturating_add(*count);
            }
            let steps = steps.iter().map(|(step, count)| format!("{step}.{count}"));
            lines.push(format!("sign\t{}\t{all}\t{right}\t{}", flat(sign), spaced(steps.collect())));
        }
        let runs = self.runs.iter().map(|(cells, right, ms)| format!("{cells}.{right}.{ms}"));
        lines.push(format!("runs\t{}", spaced(runs.collect())));
        lines.push(format!(
            "low\t{}",
            self.low.iter().map(|good| if *good { '1' } else { '0' }).collect::<String>()
        ));
        let asked: Vec<String> = self.asked.0.iter().map(|sign| flat(sign)).collect();
        lines.push(format!("asked\t{}\t{}", u8::from(self.asked.1), asked.join("\t")));
        lines
    }

    /// The sums of a record's past alone.
    pub(super) fn of_past(record: &Record) -> Sums {
        let past = &record.past;
        let mut sums = Sums::default();
        if past.is_empty() {
            return sums;
        }
        for fields in past.of_kind("sums") {
            let number = |at: usize| fields.get(at).and_then(|field| field.parse::<u64>().ok()).unwrap_or(0);
            let small = |at: usize| u32::try_from(number(at)).unwrap_or(u32::MAX);
            sums.answers = (small(0), small(1));
            sums.practised_ms = number(2);
            sums.causes = [small(3), small(4), small(5)];
            sums.read = (small(6), small(7), number(8));
        }
        for parts in past.of_kind("days").flat_map(numbers) {
            if let [day, all, right] = parts[..] {
                sums.days.insert(day, (all as u32, right as u32));
            }
        }
        for (sign, instead, times) in past_pairs(record) {
            sums.pairs.insert((sign, instead), times);
        }
        for fields in past.of_kind("sign") {
            let [sign, all, right, times] = fields[..] else { continue };
            let steps = numbers(vec![times]).into_iter().filter_map(|parts| match parts[..] {
                [step, count] => Some((step.saturating_mul(STEP), count as u32)),
                _ => None,
            });
            let of = (all.parse().unwrap_or(0), right.parse().unwrap_or(0), steps.collect());
            sums.signs.insert(sign.to_owned(), of);
        }
        for parts in past.of_kind("runs").flat_map(numbers) {
            if let [cells, right, ms] = parts[..] {
                sums.runs.push((cells as u32, right as u32, ms));
            }
        }
        for fields in past.of_kind("low") {
            sums.low = fields.iter().flat_map(|field| field.chars()).map(|good| good == '1').collect();
        }
        for fields in past.of_kind("asked") {
            sums.asked.1 = fields.first() == Some(&"1");
            sums.asked.0 = fields
                .iter()
                .skip(1)
                .filter(|sign| !sign.is_empty())
                .map(|sign| (*sign).to_owned())
                .collect();
        }
        sums
    }
}

/// How often a sign was taken for something, in a record's past: sign asked, what was answered.
pub(super) fn past_pairs(record: &Record) -> Vec<(String, String, u32)> {
    let names: Vec<&str> = record.past.of_kind("names").flatten().collect();
    let name = |at: u64| usize::try_from(at).ok().and_then(|at| names.get(at)).map(|name| (*name).to_owned());
    let pairs = record.past.of_kind("pairs").flat_map(numbers);
    let pair = |parts: Vec<u64>| match parts[..] {
        [sign, instead, times] => Some((name(sign)?, name(instead)?, times as u32)),
        _ => None,
    };
    pairs.filter_map(pair).collect()
}

/// Numbers parted by points, in groups parted by spaces.
fn numbers(fields: Vec<&str>) -> Vec<Vec<u64>> {
    let group = |text: &str| text.split('.').map(|number| number.parse().ok()).collect::<Option<Vec<u64>>>();
    fields.iter().flat_map(|field| field.split(' ')).filter_map(group).collect()
}

/// A text as a field of a line.
fn flat(text: &str) -> String {
    text.replace(['\t', '\n', '\r'], " ")
}
