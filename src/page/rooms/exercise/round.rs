//! A set round: items one by one, signs or lines, each answered once for the score; at its end a result slip. What happens in
//! it is kept as it happens, so that it goes on at the same item.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::round::{Act, Answered, Round as State, cells_of, direction, judge, numbers};
use crate::exercise::{Exercise, Item, Slip, Task};
use crate::page::browser::clock::{now, seed};
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::learner::journal::use_learner;
use crate::page::learner::rehearsal::use_name;
use crate::page::learner::settings::use_settings;
use crate::page::marked::hand_in::{HandIn, handed_in};
use crate::page::marked::progress::use_progress;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::work;
use crate::page::surface::written::{Given, Written};
use crate::page::widgets::cells_line::{self, CellsLine, CellsText};
use crate::page::widgets::fields::text_of;
use crate::practice::drill;
use crate::practice::record::Answer;
use crate::ueb::{self, Options, Sign, register};

const VERSION: u32 = 1;

/// The exercise.
#[derive(Properties, PartialEq)]
pub struct RoundProps {
    /// The exercise: reading or dot numbers, or signs for any task.
    pub exercise: Rc<Exercise>,
}

/// Items one by one, and the slip.
#[component]
pub fn Round(props: &RoundProps) -> Html {
    let set = &props.exercise;
    let progress = use_progress(set);
    let name = use_name(|| work::name_of("round", &set.identity()));
    let kept =
        use_memo((), |()| if name.is_empty() { None } else { store::load_any::<State>(&name, VERSION) });
    let state = use_held(|| (*kept).clone().unwrap_or_else(|| State::begin(seed())));
    // As the last event left it: a page that is being closed draws nothing any more.
    let latest = use_mut_ref(|| (*state).clone());
    let act = {
        let (state, set, progress) = (state.clone(), set.clone(), progress.clone());
        Callback::from(move |act: Act| {
            let before = latest.borrow().ended;
            let new = latest.borrow().act(&set, act);
            if !name.is_empty() {
                // What the browser does not take is held, and the page says so.
                let _ = store::save_any(&name, VERSION, &new);
            }
            if new.ended && !before {
                progress.hand_in(None, new.work(), new.helped(), true);
            }
            *latest.borrow_mut() = new.clone();
            state.set(new);
        })
    };
    let list = state.list(set);
    if list.is_empty() {
        return html! { <p class="alert" role="alert">{ "There is nothing in this exercise. Ask for it to be made anew." }</p> };
    }
    let again = {
        let (act, progress) = (act.clone(), progress.clone());
        Callback::from(move |_: MouseEvent| {
            progress.again();
            act.emit(Act::Again(seed()));
        })
    };
    let slip = (!progress.tries.is_empty()).then(|| Slip::of(set, &progress.tries, None));
    html! {
        <>
            // It stands there before there is a result, so that a screen reader hears it come.
            <p role="status" aria-label="Result">{ if state.ended { result(&state.done, list.len()) } else { String::new() } }</p>
            if state.ended {
                <Answers lines={Rc::new(state.done.clone())} />
                { handed_in(&progress, again) }
            } else if let Some(item) = list.get(state.at()) {
                <Ask key={format!("{} {}", progress.tries.len(), state.at())} set={set.clone()} item={item.clone()} of={list.len()}
                    state={(*state).clone()} {act} />
            }
            if let Some(slip) = slip.filter(|_| !progress.in_set()) { <HandIn {slip} name={progress.name().to_owned()} /> }
        </>
    }
}

/// How a round came out.
fn result(done: &[Answered], of: usize) -> String {
    let right = done.iter().filter(|one| one.counts()).count();
    let mut says = format!("{right} of {of} right at the first answer.");
    if done.len() < of {
        says.push_str(&format!(" {} not answered.", of - done.len()));
    }
    says
}

#[derive(Properties, PartialEq)]
struct AskProps {
    set: Rc<Exercise>,
    item: Item,
    of: usize,
    state: State,
    act: Callback<Act>,
}

/// One item: what is asked, the answer, and what was said of it.
#[component]
fn Ask(props: &AskProps) -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let (set, item, state) = (&props.set, &props.item, &props.state);
    let task = set.task;
    let since = use_mut_ref(now);
    let field = use_node_ref();
    {
        // The next item takes the focus from the one before.
        let (field, goes_on) = (field.clone(), state.at() > 0);
        use_effect_with((), move |()| {
            if let Some(field) = field.cast::<web_sys::HtmlElement>().filter(|_| goes_on) {
                let _ = field.focus();
            }
        });
    }
    let given = use_memo((), |()| Given { lines: Rc::new(vec![cells_of(&state.typed)]), ..Given::default() });
    let sign: Option<&'static Sign> = if let Item::Sign(key) = item { register::by_key(key) } else { None };
    let by_hand = sign.is_some() && matches!(task, Task::Write | Task::Slate | Task::Transcribe);
    // An empty answer was to be given: it is none, and the ways on are told.
    let nothing = use_held(bool::default);
    let answer = {
        let (set, item, state, act) = (set.clone(), item.clone(), state.clone(), props.act.clone());
        Callback::from(move |typed: String| {
            let judged = judge(&set, &item, &typed);
            if let Some(sign) = sign {
                learner.answer(Answer {
                    at: now(),
                    sign: sign.key.to_owned(),
                    direction: direction(task),
                    right: judged.right,
                    ms: now().saturating_sub(*since.borrow()),
                    clues: u8::try_from(state.clues).unwrap_or(u8::MAX),
                    instead: judged.instead.clone(),
                    cause: judged.cause.to_owned(),
                });
            }
            act.emit(Act::Answer(judged));
        })
    };
    let onsubmit = {
        let (state, act, answer, nothing) =
            (state.clone(), props.act.clone(), answer.clone(), nothing.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            if state.said.is_some() {
                act.emit(Act::Next);
            } else if state.typed.trim().is_empty() {
                nothing.set(true);
            } else {
                answer.emit(state.typed.clone());
            }
        })
    };
    let unknown = {
        let (act, answer) = (props.act.clone(), answer.clone());
        Callback::from(move |_: MouseEvent| {
            act.emit(Act::Type(String::new()));
            answer.emit(String::new());
        })
    };
    let oninput = props.act.reform(|event: InputEvent| Act::Type(text_of(&event)));
    let on_change = props.act.reform(|new: Written| {
        let cells: Vec<_> = new.cells().into_iter().flatten().filter(|cell| !cell.is_blank()).collect();
        Act::Type(numbers(&cells))
    });
    let hints = sign.map(crate::practice::clues::for_sign).unwrap_or_default();
    let clean = |text: &str| cells_line::shown(text, &settings);
    let label = match task {
        Task::DotNumbers => "Its dot numbers, a space between cells",
        _ => "It says",
    };
    let meant = sign.map(|sign| {
        let cells: Rc<[crate::cell::Cell]> = sign.cells.as_slice().into();
        Callback::from(move |()| cells.clone())
    });
    let said = state.said.as_deref();
    let (at, last) = (state.at() + 1, state.at() + 1 == props.of);
    // At the end the main button leads to the result already.
    let ends = last && said.is_some();
    html! {
        <section class="practise" aria-label="Round">
            <p class="where" role="status" aria-label="Item">{ format!("{at} of {}", props.of) }</p>
            <form {onsubmit}>
                <div id="asked" class="asked" aria-live="polite" data-copy="">{ asked(set, item, sign, &clean) }</div>
                if by_hand {
                    <BrailleInput drill=true reads={false} asks="asked" {meant} given={(*given).clone()} {on_change} slate={task == Task::Slate} />
                } else {
                    <label>{ label }{ " " }<input ref={field} type="text" aria-describedby="asked" autocomplete="off" autocapitalize="off" spellcheck="false" value={state.typed.clone()} {oninput} readonly={said.is_some()} /></label>
                }
                <div class="controls">
                    <button class="main" type="submit">{ match said { None => "Answer", Some(_) if last => "To the result", Some(_) => "Next" } }</button>
                    if said.is_none() {
                        <button class="quiet" type="button" onclick={unknown}>{ "I do not know" }</button>
                    }
                    if set.help && said.is_none() && state.clues < hints.len() {
                        <button class="quiet" type="button" onclick={props.act.reform(|_: MouseEvent| Act::Clue)}>{ "A clue" }</button>
                    }
                    if !state.done.is_empty() && !ends {
                        <button class="quiet" type="button" onclick={props.act.reform(|_: MouseEvent| Act::End)}>{ "Hand in what is done" }</button>
                    }
                </div>
            </form>
            <ol class="clues" aria-live="polite">{ for hints.iter().take(state.clues).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
            <p role="status" aria-label="Judged">{ match said {
                Some(said) => clean(said),
                None if *nothing && state.typed.trim().is_empty() => "Nothing is written yet. “I do not know” shows the answer.".to_owned(),
                None => String::new(),
            } }</p>
        </section>
    }
}

/// What is asked: cells, or what they are to be.
fn asked(set: &Exercise, item: &Item, sign: Option<&'static Sign>, clean: &dyn Fn(&str) -> String) -> Html {
    match (item, sign, set.task) {
        (_, Some(sign), Task::Read | Task::Proofread) => html! {
            <><CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(18.0)} /><span class="note">{ drill::taken_as(sign.class) }</span></>
        },
        (_, Some(sign), _) => {
            html! { <><strong>{ drill::asked_as(sign) }</strong><span class="note">{ drill::taken_as(sign.class) }</span></> }
        }
        (Item::Line(line), _, Task::DotNumbers) => html! { <strong>{ clean(line) }</strong> },
        (Item::Line(line), ..) => {
            let cells = ueb::transcribe(line, &Options { marks: true, ..set.options() });
            html! { <CellsText cells={Rc::from(cells)} dot={Some(12.0)} /> }
        }
        (Item::Sign(_), None, _) => html! {},
    }
}

/// Answers to show.
#[derive(Properties, PartialEq)]
pub struct AnswersProps {
    /// What was asked, what was answered, and whether it is right.
    pub lines: Rc<Vec<Answered>>,
}

/// A table of answers.
#[component]
pub fn Answers(props: &AnswersProps) -> Html {
    let settings = use_settings();
    let clean = |text: &str| cells_line::shown(text, &settings);
    let judged = |one: &Answered| match (one.right, one.clue) {
        (true, false) => "✓ right",
        (true, true) => "✓ right, with a clue",
        (false, false) => "✗ wrong",
        (false, true) => "✗ wrong, with a clue",
    };
    html! {
        <table>
            <thead><tr><th scope="col">{ "Asked" }</th><th scope="col">{ "Answer" }</th><th scope="col">{ "" }</th></tr></thead>
            <tbody>{ for props.lines.iter().map(|one| html! {
                <tr><td>{ clean(&one.asked) }</td><td>{ clean(&one.answer) }</td><td>{ judged(one) }</td></tr>
            }) }</tbody>
        </table>
    }
}
