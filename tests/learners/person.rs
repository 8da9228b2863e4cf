//! A simulated learner: what it knows, how long it takes, and how it slips.

use std::collections::HashMap;

use cellwright::practice::lookalike;
use cellwright::ueb::register;
use rs_fsrs::{Parameters as Model, Rating};

const DAY: f64 = 86_400_000.0;

/// The parameters of `parameters.tsv`, each multiplied by `times` where a run asks for it.
#[derive(Clone)]
pub struct Parameters(HashMap<String, f64>);

impl Parameters {
    pub fn read() -> Parameters {
        let lines = include_str!("parameters.tsv").lines().filter(|line| !line.starts_with('#'));
        Parameters(
            lines
                .map(|line| {
                    let fields: Vec<&str> = line.split('\t').collect();
                    let [name, value, source] = fields[..] else { panic!("{line}: three fields") };
                    assert!(
                        ["our choice", "from memory", "the length"].iter().any(|s| source.starts_with(s))
                    );
                    (name.to_owned(), value.parse().expect(line))
                })
                .collect(),
        )
    }

    pub fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = self.0.keys().cloned().collect();
        names.sort_unstable();
        names
    }

    pub fn with(&self, name: &str, times: f64) -> Parameters {
        let mut other = self.clone();
        *other.0.get_mut(name).expect(name) *= times;
        other
    }

    pub fn get(&self, name: &str) -> f64 {
        self.0[name]
    }
}

/// What is left of one sign.
#[derive(Clone)]
struct Trace {
    stability: f64,
    difficulty: f64,
    at: u64,
    right: f64,
    /// Right answers of the day.
    today: (u64, u32),
}

pub struct Person {
    parameters: Parameters,
    model: Model,
    slow: f64,
    traces: HashMap<&'static str, Trace>,
    alike: HashMap<&'static str, Vec<&'static str>>,
    pub chance: fastrand::Rng,
}

/// A number of the normal distribution.
fn normal(chance: &mut fastrand::Rng) -> f64 {
    (-2.0 * (1.0 - chance.f64()).ln()).sqrt() * (std::f64::consts::TAU * chance.f64()).cos()
}

pub struct Told {
    pub right: bool,
    pub ms: u64,
    /// The key of the sign it was taken for.
    pub instead: Option<&'static str>,
}

impl Person {
    pub fn new(parameters: &Parameters, seed: u64) -> Person {
        let mut chance = fastrand::Rng::with_seed(seed);
        let talent = (parameters.get("talent") * normal(&mut chance)).exp();
        let slow = (parameters.get("speed") * normal(&mut chance)).exp();
        let mut model = Model::default();
        model.w[..4].iter_mut().for_each(|first| *first *= talent);
        model.w[8] += talent.ln() / 2.0;
        Person {
            parameters: parameters.clone(),
            model,
            slow,
            traces: HashMap::new(),
            alike: HashMap::new(),
            chance,
        }
    }

    pub fn misses_today(&mut self) -> bool {
        self.chance.f64() < self.parameters.get("missed")
    }

    /// A sign is shown with its meaning.
    pub fn sees(&mut self, key: &'static str, at: u64) -> u64 {
        let first = Trace {
            stability: self.model.init_stability(Rating::Again),
            difficulty: self.model.init_difficulty(Rating::Good),
            at,
            right: 0.0,
            today: (0, 0),
        };
        self.traces.entry(key).or_insert(first);
        (4_000.0 * self.slow) as u64
    }

    pub fn recall(&self, key: &str, at: u64) -> f64 {
        let Some(trace) = self.traces.get(key) else { return 0.0 };
        Model::forgetting_curve(at.saturating_sub(trace.at) as f64 / DAY, trace.stability)
    }

    fn looks_like(&mut self, key: &'static str) -> Option<&'static str> {
        // A clause of the rules looks like nothing.
        let alike = self.alike.entry(key).or_insert_with(|| {
            let signs = register::by_key(key).map(lookalike::of).unwrap_or_default();
            signs.into_iter().map(|(other, _)| other.key).collect()
        });
        let met: Vec<&'static str> =
            alike.iter().copied().filter(|key| self.traces.contains_key(key)).collect();
        (!met.is_empty()).then(|| met[self.chance.usize(..met.len())])
    }

    /// A sign is asked; the right answer is seen afterwards.
    pub fn answers(&mut self, key: &'static str, writes: bool, at: u64) -> Told {
        self.tells(key, writes, self.parameters.get("slip"), at)
    }

    fn tells(&mut self, key: &'static str, writes: bool, slip: f64, at: u64) -> Told {
        let harder = if writes { self.parameters.get("write") } else { 1.0 };
        let recalled = self.chance.f64() < self.recall(key, at).powf(harder);
        let fresh = self.traces.get(key).map_or(1.0, |trace| 1.0 / (1.0 + trace.stability));
        let confused = self.chance.f64() < self.parameters.get("confusion") * fresh;
        let instead = if confused { self.looks_like(key) } else { None };
        let slips = self.chance.f64() < slip;
        let ms = self.time(key);
        let known = recalled && instead.is_none();
        self.learns(key, known, at);
        Told { right: known && !slips, ms, instead }
    }

    fn time(&self, key: &str) -> u64 {
        let best = self.parameters.get("best");
        let times = self.traces.get(key).map_or(1.0, |trace| trace.right.max(1.0));
        let seconds =
            best + (self.parameters.get("first") - best) * times.powf(-self.parameters.get("practice"));
        (seconds * self.slow * 1_000.0) as u64
    }

    fn learns(&mut self, key: &'static str, known: bool, at: u64) {
        let recall = self.recall(key, at);
        self.sees(key, at);
        let Some(trace) = self.traces.get_mut(key) else { return };
        let day = at / DAY as u64;
        if trace.today.0 != day {
            trace.today = (day, 0);
        }
        let same_day = at / DAY as u64 == trace.at / DAY as u64;
        let rating = if known { Rating::Good } else { Rating::Again };
        if !known {
            let less = self.model.next_forget_stability(trace.difficulty, trace.stability, recall);
            trace.stability = less.min(trace.stability).max(0.05);
        } else if same_day {
            if f64::from(trace.today.1) < self.parameters.get("gains") {
                trace.stability = self.model.short_term_stability(trace.stability, Rating::Good);
            }
        } else {
            trace.stability =
                self.model.next_recall_stability(trace.difficulty, trace.stability, recall, Rating::Good);
        }
        trace.difficulty = self.model.next_difficulty(trace.difficulty, rating);
        trace.right += f64::from(u8::from(known));
        trace.today.1 += u32::from(known);
        trace.at = at;
    }

    /// A line is read or written: each of its signs is told, and seen afterwards.
    pub fn line(&mut self, keys: &[&'static str], writes: bool, at: u64) -> (Vec<(&'static str, Told)>, u64) {
        let mut ms = 0.0;
        let mut told: Vec<(&'static str, Told)> = Vec::new();
        for key in keys {
            ms += self.time(key) as f64 * self.parameters.get("line");
            if !told.iter().any(|(before, _)| before == key) {
                let guessed = !writes && self.chance.f64() < self.parameters.get("context");
                let given_away = guessed && self.chance.f64() >= self.recall(key, at);
                let answer = if given_away {
                    Told { right: true, ms: self.time(key), instead: None }
                } else {
                    let slip = self.parameters.get("slip") * self.parameters.get("line");
                    self.tells(key, writes, slip, at)
                };
                told.push((key, answer));
            }
        }
        (told, ms as u64)
    }
}
