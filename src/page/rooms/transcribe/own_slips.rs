//! My own slips, before I send: what a grader has marked, and the tour of every place where this learner tends to slip.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::proofread;
use crate::manuscript::tour::{self, Habit, Stop};
use crate::marking::Kind;
use crate::marking::plant::KINDS;
use crate::page::browser::clock::{now, today};
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::learner::journal::LearnerHandle;
use crate::page::states::own_slips::{self, Listed};
use crate::practice::record::{Answer, Direction};
use crate::ueb::register;

const KEY: &str = "slips";
const VERSION: u32 = 1;

/// An answer out of a running text has no time of its own: longer than any pause that is counted.
pub const UNTIMED: u64 = 3_600_000;

/// A mistake that a grader marked on returned work.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct OwnSlip {
    day: String,
    page: u32,
    line: u32,
    kind: String,
    habit: Habit,
    note: String,
}

impl OwnSlip {
    /// The slip that a line of a list tells, of today.
    fn of(listed: Listed) -> OwnSlip {
        OwnSlip {
            day: today(),
            page: listed.page,
            line: listed.line,
            kind: listed.kind.map_or("", Kind::name).to_owned(),
            habit: Habit { sign: listed.sign, after: String::new() },
            note: listed.note,
        }
    }
}

/// Puts a slip into the record, where its sign is known.
fn answered(learner: &LearnerHandle, slip: &OwnSlip) {
    let asked = slip.habit.sign.as_str();
    let known = register::signs().iter().find(|sign| {
        sign.key == asked || sign.key.strip_prefix(asked).is_some_and(|rest| rest.starts_with(" before "))
    });
    if let Some(sign) = known {
        learner.answer(Answer {
            at: now(),
            sign: sign.key.to_owned(),
            direction: Direction::Write,
            right: false,
            ms: UNTIMED,
            clues: 0,
            instead: format!("page {}, line {}", slip.page, slip.line),
            cause: Kind::named(&slip.kind).map_or("", cause).to_owned(),
        });
    }
}

/// What failed in a mistake of this kind: the word in the learner's log.
pub fn cause(kind: Kind) -> &'static str {
    match kind {
        Kind::Mirrored | Kind::Shifted | Kind::LostPrefix | Kind::WrongSign => "eye",
        Kind::DotSlip | Kind::Spacing | Kind::LeftOut | Kind::Added => "hand",
        _ => "rule",
    }
}

/// The learner's habits: what graders told, and what the record says went wrong of late.
pub fn habits(learner: &LearnerHandle) -> Vec<Habit> {
    let told: Vec<Habit> = store::load_any::<Vec<OwnSlip>>(KEY, VERSION)
        .unwrap_or_default()
        .into_iter()
        .map(|slip| slip.habit)
        .filter(|habit| !habit.sign.is_empty())
        .collect();
    let answers = learner.record.answers();
    let late = answers.len().saturating_sub(2000);
    let wrong = answers[late..]
        .iter()
        .filter(|answer| !answer.right && matches!(answer.direction, Direction::Write | Direction::Read));
    tour::habits(&told, wrong.map(|answer| (answer.sign.as_str(), answer.instead.as_str())))
}

/// What this learner slips at, as [`proofread::own_causes`] names it: what graders told, and what the record says went wrong
/// in writing of late.
pub fn own_causes(learner: &LearnerHandle) -> Vec<String> {
    let told = store::load_any::<Vec<OwnSlip>>(KEY, VERSION).unwrap_or_default();
    let told = told.iter().filter_map(|slip| Some((Kind::named(&slip.kind)?, slip.habit.sign.as_str())));
    let answers = learner.record.answers();
    let late = answers.len().saturating_sub(2000);
    let wrong = answers[late..].iter().filter(|one| !one.right && one.direction == Direction::Write);
    proofread::own_causes(told, wrong.map(|one| (one.sign.as_str(), one.instead.as_str())))
}

/// Signs that stand before another in a habit.
const BEFORE: [&str; 6] =
    ["", "hyphen", "dash", "solidus (forward slash)", "capitalised word indicator", "space"];

/// The learner, whose slips they are.
#[derive(Properties, PartialEq)]
pub struct OwnSlipsProps {
    /// The learner.
    pub learner: LearnerHandle,
}

/// The list of slips that graders told, and the form for one more.
#[component]
pub fn OwnSlips(props: &OwnSlipsProps) -> Html {
    let slips = use_held(|| store::load_any::<Vec<OwnSlip>>(KEY, VERSION).unwrap_or_default());
    let new = use_held(|| OwnSlip {
        page: 1,
        line: 1,
        kind: Kind::Mirrored.name().to_owned(),
        ..OwnSlip::default()
    });
    let said = use_held(String::new);
    let edit = |with: fn(&mut OwnSlip, String)| {
        let new = new.clone();
        move |value: String| {
            let mut next = (*new).clone();
            with(&mut next, value);
            new.set(next);
        }
    };
    let typed = |with: fn(&mut OwnSlip, String)| {
        let edit = edit(with);
        Callback::from(move |event: InputEvent| {
            edit(event.target_unchecked_into::<web_sys::HtmlInputElement>().value())
        })
    };
    let chosen = |with: fn(&mut OwnSlip, String)| {
        let edit = edit(with);
        Callback::from(move |event: Event| {
            edit(event.target_unchecked_into::<web_sys::HtmlSelectElement>().value())
        })
    };
    let keep = {
        let said = said.clone();
        move |all: &[OwnSlip]| {
            said.set(match store::save_any(KEY, VERSION, &all) {
                Ok(()) => String::new(),
                Err(error) => error.words().to_owned(),
            });
        }
    };
    // Each joins the record too, where the sign is known.
    let enter = {
        let (slips, learner, keep) = (slips.clone(), props.learner.clone(), keep.clone());
        move |new: Vec<OwnSlip>| {
            new.iter().for_each(|slip| answered(&learner, slip));
            let all = [(*slips).clone(), new].concat();
            keep(&all);
            slips.set(all);
        }
    };
    let add = {
        let (new, enter) = (new.clone(), enter.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            enter(vec![OwnSlip { day: today(), ..(*new).clone() }]);
            new.set(OwnSlip { note: String::new(), ..(*new).clone() });
        })
    };
    let pasted = use_held(String::new);
    let type_list = {
        let pasted = pasted.clone();
        Callback::from(move |event: InputEvent| {
            pasted.set(event.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value());
        })
    };
    let entered = use_held(String::new);
    let enter_list = {
        let (pasted, entered) = (pasted.clone(), entered.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let list = own_slips::read(&pasted);
            let left = list.left.len();
            let slips: Vec<OwnSlip> = list.slips.into_iter().map(OwnSlip::of).collect();
            entered.set(match (slips.len(), left) {
                (0, 0) => "The list is empty.".to_owned(),
                (count, 0) => format!("Slips entered: {count}."),
                (count, left) => format!(
                    "Slips entered: {count}. Lines without a page and a line, left in the field: {left}."
                ),
            });
            if !slips.is_empty() {
                enter(slips);
            }
            pasted.set(list.left.join("\n"));
        })
    };
    let remove = |at: usize| {
        let (slips, keep) = (slips.clone(), keep.clone());
        Callback::from(move |_: MouseEvent| {
            let mut all = (*slips).clone();
            all.remove(at);
            keep(&all);
            slips.set(all);
        })
    };
    html! {
        <details class="more">
            <summary>{ format!("My own slips ({})", slips.len()) }</summary>
            <p>{ "What a grader marked on work that came back. It joins your record, and the tour before hand-in visits every such place." }</p>
            <form class="set" onsubmit={add}>
                <label>{ "Page" }<br /><input type="number" min="1" value={new.page.to_string()} oninput={typed(|slip, value| slip.page = value.parse().unwrap_or(1))} /></label>
                <label>{ "Line" }<br /><input type="number" min="1" value={new.line.to_string()} oninput={typed(|slip, value| slip.line = value.parse().unwrap_or(1))} /></label>
                <label>{ "What kind" }<br />
                    <select onchange={chosen(|slip, value| slip.kind = value)}>
                        { for KINDS.iter().map(|kind| html! { <option value={kind.name()} selected={kind.name() == new.kind}>{ kind.words() }</option> }) }
                    </select>
                </label>
                <label>{ "At which sign" }<br />
                    <input type="text" list="signs-of-slips" autocomplete="off" value={new.habit.sign.clone()} oninput={typed(|slip, value| slip.habit.sign = value.trim().to_owned())} />
                    <datalist id="signs-of-slips">
                        <option value="numeric indicator" />
                        { for register::signs().iter().filter(|sign| !sign.key.contains(" before ")).map(|sign| html! { <option value={sign.key} /> }) }
                    </datalist>
                </label>
                <label>{ "Only after" }<br />
                    <select onchange={chosen(|slip, value| slip.habit.after = value)}>
                        { for BEFORE.iter().filter(|key| key.is_empty() || register::by_key(key).is_some()).map(|key| html! { <option value={*key} selected={*key == new.habit.after}>{ if key.is_empty() { "any sign" } else { key } }</option> }) }
                    </select>
                </label>
                <label>{ "Note" }<br /><input type="text" value={new.note.clone()} oninput={typed(|slip, value| slip.note = value.chars().take(200).collect())} /></label>
                <div class="controls"><button type="submit">{ "Add this slip" }</button></div>
            </form>
            <form class="set" aria-label="A list of slips" onsubmit={enter_list}>
                <label>{ "Or a list, a slip a line: page, line, what kind, which sign, a note" }<br />
                    <textarea rows="4" placeholder="3, 12, indicator missing, numeric indicator" value={(*pasted).clone()} oninput={type_list} /></label>
                <div class="controls"><button type="submit">{ "Add this list" }</button></div>
            </form>
            <p role="status" aria-label="The list">{ (*entered).clone() }</p>
            if !said.is_empty() { <p class="alert" role="alert">{ (*said).clone() }</p> }
            <ul>
                { for slips.iter().enumerate().map(|(at, slip)| html! {
                    <li>
                        { format!("{} · page {}, line {}", slip.day, slip.page, slip.line) }
                        { Kind::named(&slip.kind).map_or_else(String::new, |kind| format!(" · {}", kind.words())) }
                        { if slip.habit.sign.is_empty() { String::new() } else { format!(" · {}", habit_words(&slip.habit)) } }
                        { if slip.note.is_empty() { String::new() } else { format!(" · {}", slip.note) } }
                        { " " }<button type="button" class="quiet" onclick={remove(at)}>{ "Remove" }</button>
                    </li>
                }) }
            </ul>
        </details>
    }
}

/// A habit in words.
fn habit_words(habit: &Habit) -> String {
    if habit.after.is_empty() { habit.sign.clone() } else { format!("{} after {}", habit.sign, habit.after) }
}

/// A tour of the work.
#[derive(Properties, PartialEq)]
pub struct TourProps {
    /// The places to look at.
    pub stops: Rc<Vec<Stop>>,
    /// What they are visited for.
    pub habits: Rc<Vec<Habit>>,
    /// Goes to a page, line and cell of the work, from 0.
    pub go: Callback<(usize, usize, usize)>,
    /// Ends the tour.
    pub end: Callback<()>,
}

/// One place after the other, without a word on whether it is right.
#[component]
pub fn Tour(props: &TourProps) -> Html {
    let at = use_held(usize::default);
    {
        let go = props.go.clone();
        use_effect_with((props.stops.clone(), *at), move |(stops, at)| {
            if let Some(stop) = stops.get(*at) {
                go.emit((stop.page, stop.line, stop.from));
            }
        });
    }
    let step = |by: isize| {
        let (at, most) = (at.clone(), props.stops.len().saturating_sub(1));
        Callback::from(move |_: MouseEvent| at.set(at.saturating_add_signed(by).min(most)))
    };
    let end = props.end.reform(|_: MouseEvent| ());
    html! {
        <section class="marked" aria-label="Tour of my slips">
            <h2>{ "Tour of my slips" }</h2>
            if let Some(stop) = props.stops.get(*at) {
                <p role="status" aria-label="Stop">
                    { format!("Place {} of {}: page {}, line {}, cell {}. ", *at + 1, props.stops.len(), stop.page + 1, stop.line + 1, stop.from + 1) }
                    { "You have slipped here before: " }{ props.habits.get(stop.habit).map(habit_words).unwrap_or_default() }
                    { ". Whether it is right is for you to see." }
                </p>
                <div class="controls">
                    <button type="button" onclick={step(-1)} disabled={*at == 0}>{ "Place before" }</button>
                    <button type="button" class="main" onclick={step(1)} disabled={*at + 1 >= props.stops.len()}>{ "Next place" }</button>
                    <button type="button" class="quiet" onclick={end}>{ "End the tour" }</button>
                </div>
            } else {
                <p role="status" aria-label="Stop">{ "Nothing in this piece is of the kind that you have slipped at so far. Enter what your grader marked, and it will be looked for." }</p>
                <div class="controls"><button type="button" class="quiet" onclick={end}>{ "End the tour" }</button></div>
            }
        </section>
    }
}
