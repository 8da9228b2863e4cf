//! The room "Proofread": find planted mistakes, hand in on trial, or read a file of your own at the desk.

use std::rc::Rc;

use yew::prelude::*;

use super::braille_input::LineMark;
use super::cells_line::{self, CellMark};
use super::data::{Stock, use_supply};
use super::hand_in::HandIn;
use super::learner::{now, seed, use_learner};
use super::reading_desk::ReadingDesk;
use super::scored::{Scored, score_words};
use super::settings::use_settings;
use super::sheet::{Sheet, said};
use super::transcribe;
use super::write::Switch;
use crate::cell::Cell;
use crate::exercise::proofread::{self, Call, KINDS, Look, Plants, Proof, Score};
use crate::exercise::{Count, Exercise, Slip, Task, Trial};
use crate::marking::Kind;
use crate::practice::record::{Answer, Direction, Event as Happened};

/// A notice to proofread until the texts are there; written for this project.
const NOTICE: &str = "# Lost and found\n\nOn Monday 14 September a grey umbrella, two left boots and a letter to nobody were handed in on the Kittiwake. Whoever misses them may ask at the office on Hallam Quay between nine and five.\n\n- One umbrella with a carved handle, said to be from Orrin\n- Two boots, both of the same foot\n";

/// How many mistakes: words for about so many in a thousand cells.
const RATES: [(u16, &str); 4] = [(8, "few"), (20, "some"), (45, "many"), (90, "very many")];

#[derive(Clone, Copy, PartialEq)]
enum Place {
    Find,
    Trial,
    Desk,
}

/// The room.
#[component]
pub fn Room() -> Html {
    let place = use_state_eq(|| Place::Find);
    let choose = |to: Place, words: &'static str| {
        let place = place.clone();
        let on = *place == to;
        let onclick = Callback::from(move |_: MouseEvent| place.set(to));
        html! { <button type="button" class="tab" aria-pressed={if on { "true" } else { "false" }} {onclick}>{ words }</button> }
    };
    html! {
        <>
            <h1>{ "Proofread" }</h1>
            <div class="tabs" role="group" aria-label="What to do">
                { choose(Place::Find, "Find mistakes") }
                { choose(Place::Trial, "Trial hand-in") }
                { choose(Place::Desk, "Reading desk") }
            </div>
            { match *place {
                Place::Find => html! { <Own /> },
                Place::Trial => html! { <TrialOwn /> },
                Place::Desk => html! { <ReadingDesk /> },
            } }
        </>
    }
}

/// The learner's own sheets: which text, how many mistakes, of what kinds, how shown.
#[component]
fn Own() -> Html {
    let settings = use_settings();
    let supply = use_supply();
    let text = use_state_eq(|| AttrValue::Static(NOTICE));
    let plants = use_state_eq(|| Plants { seed: seed() as u32 % 1_000_000, ..Plants::default() });
    let change = |with: Rc<dyn Fn(&mut Plants)>| {
        let plants = plants.clone();
        move || {
            let mut new = (*plants).clone();
            with(&mut new);
            plants.set(new);
        }
    };
    let passage = {
        let (text, supply) = (text.clone(), supply.clone());
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let chosen = select.value().parse::<usize>().ok();
            let found = supply.here().and_then(|supply| supply.passages.get(chosen?));
            text.set(
                found.map_or(AttrValue::Static(NOTICE), |passage| AttrValue::from(passage.text.clone())),
            );
        })
    };
    let own_text = {
        let text = text.clone();
        Callback::from(move |event: Event| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            if !area.value().trim().is_empty() {
                text.set(area.value().into());
            }
        })
    };
    let rate = {
        let plants = plants.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let rate = select.value().parse().unwrap_or(20);
            plants.set(Plants { rate, ..(*plants).clone() });
        })
    };
    let look = {
        let plants = plants.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let look = Look::ALL.into_iter().find(|look| look.name() == select.value()).unwrap_or_default();
            plants.set(Plants { look, ..(*plants).clone() });
        })
    };
    let beside = {
        let plants = plants.clone();
        Callback::from(move |beside: bool| plants.set(Plants { beside, ..(*plants).clone() }))
    };
    let again = {
        let change = change(Rc::new(|plants| plants.seed = seed() as u32 % 1_000_000));
        Callback::from(move |_: MouseEvent| change())
    };
    let kind = |kind: Kind| {
        let plants = plants.clone();
        Callback::from(move |on: bool| {
            let mut kinds = plants.kinds.clone();
            kinds.retain(|name| name != kind.name());
            if on {
                kinds.push(kind.name().to_owned());
            }
            plants.set(Plants { kinds, ..(*plants).clone() });
        })
    };
    html! {
        <>
            <details class="more">
                <summary>{ "Text and difficulty" }</summary>
                <div class="set">
                    <label>{ "Text" }<br />
                        <select onchange={passage}>
                            <option value="">{ "Lost and found" }</option>
                            if let Stock::Here(supply) = &supply {
                                { for supply.passages.iter().enumerate().filter(|(_, p)| p.contracted == settings.contracted).map(|(n, passage)| html! {
                                    <option value={n.to_string()}>{ &passage.title }</option>
                                }) }
                            }
                        </select>
                    </label>
                    <label>{ "Mistakes" }<br />
                        <select onchange={rate}>
                            { for RATES.iter().map(|(rate, words)| html! { <option value={rate.to_string()} selected={*rate == plants.rate}>{ *words }</option> }) }
                        </select>
                    </label>
                    <label>{ "Look" }<br />
                        <select onchange={look}>
                            { for Look::ALL.iter().map(|look| html! { <option value={look.name()} selected={*look == plants.look}>{ look.name() }</option> }) }
                        </select>
                    </label>
                    <Switch label="Print beside it" on={plants.beside} set={beside} />
                </div>
                <fieldset>
                    <legend>{ "Kinds of mistakes (none chosen: all of them)" }</legend>
                    <div class="set">
                        { for KINDS.iter().map(|one| html! {
                            <Switch label={one.words()} on={plants.kinds.iter().any(|name| name == one.name())} set={kind(*one)} />
                        }) }
                    </div>
                </fieldset>
                <label>{ "Or a text of your own" }<textarea rows="4" onchange={own_text} /></label>
            </details>
            <Work key={format!("{:?}{}", *plants, &*text)} text={(*text).clone()} contracted={settings.contracted} plants={(*plants).clone()} />
            <div class="controls"><button type="button" onclick={again}>{ "Another sheet" }</button></div>
        </>
    }
}

/// A sheet with planted mistakes at work.
#[derive(Properties, PartialEq)]
pub struct WorkProps {
    /// The print.
    pub text: AttrValue,
    /// Contracted or not.
    pub contracted: bool,
    /// What is planted, and how it looks.
    pub plants: Plants,
    /// The exercise it comes from; its result becomes a slip.
    #[prop_or_default]
    pub set: Option<Rc<Exercise>>,
}

/// A sheet, the learner's calls, and the score.
#[component]
pub fn Work(props: &WorkProps) -> Html {
    let learner = use_learner();
    let proof = use_memo(
        (props.text.clone(), props.contracted, props.plants.clone()),
        |(text, contracted, plants)| proofread::proof(text, *contracted, plants),
    );
    let lines = use_memo(proof.clone(), |proof| {
        proof.lines.iter().map(|line| Rc::from(line.as_slice())).collect::<Vec<Rc<[Cell]>>>()
    });
    let at = use_state_eq(|| (0usize, 0usize));
    let calls = use_state_eq(Vec::<Call>::new);
    let kind = use_state_eq(|| None::<Kind>);
    let score = use_state_eq(|| None::<Rc<Score>>);
    let seconds = use_state_eq(|| 0u32);
    let since = use_mut_ref(now);
    let shown = use_state_eq(|| false);
    let helped = use_state_eq(|| false);
    let done = score.is_some();

    let on_move = {
        let at = at.clone();
        Callback::from(move |to| at.set(to))
    };
    let call = {
        let (calls, at, kind) = (calls.clone(), *at, *kind);
        Callback::from(move |()| {
            if done {
                return;
            }
            let mut new = (*calls).clone();
            let before = new.len();
            new.retain(|call| (call.line, call.cell) != at);
            if new.len() == before {
                new.push(Call { line: at.0, cell: at.1, kind });
            }
            calls.set(new);
        })
    };
    let press = {
        let call = call.clone();
        Callback::from(move |_: MouseEvent| call.emit(()))
    };
    let said_kind = {
        let (kind, calls, at) = (kind.clone(), calls.clone(), *at);
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let chosen = Kind::named(&select.value());
            kind.set(chosen);
            // The kind of a cell that is marked already.
            let mut new = (*calls).clone();
            if let Some(call) = new.iter_mut().find(|call| (call.line, call.cell) == at) {
                call.kind = chosen;
                calls.set(new);
            }
        })
    };
    let hand_in = {
        let (proof, calls, score, since, seconds, learner) =
            (proof.clone(), (*calls).clone(), score.clone(), since.clone(), seconds.clone(), learner.clone());
        Callback::from(move |_: MouseEvent| {
            let came = proof.score(&calls);
            let time = now().saturating_sub(*since.borrow());
            seconds.set((time / 1000) as u32);
            // What was seen or overlooked belongs to the signs that should have stood there.
            let mut events = Vec::new();
            for (number, mistake) in proof.planted.iter().enumerate() {
                let Some(sign) = mistake.sign else { continue };
                let right = !came.missed.contains(&number);
                events.push(Happened::Answer(Answer {
                    at: now(),
                    sign: sign.to_owned(),
                    direction: Direction::Read,
                    right,
                    ms: time / proof.planted.len().max(1) as u64,
                    clues: 0,
                    instead: String::new(),
                    cause: if right { String::new() } else { "eye".to_owned() },
                }));
            }
            learner.add_all(&events);
            score.set(Some(Rc::new(came)));
        })
    };
    let read_out = {
        let (shown, helped) = (shown.clone(), helped.clone());
        Callback::from(move |_: MouseEvent| {
            shown.set(!*shown);
            helped.set(true);
        })
    };
    let marks: Rc<Vec<LineMark>> = Rc::new(match score.as_ref() {
        None => calls
            .iter()
            .enumerate()
            .map(|(number, call)| LineMark {
                line: call.line,
                mark: CellMark { from: call.cell, to: call.cell + 1, number: number + 1 },
            })
            .collect(),
        Some(_) => proof
            .planted
            .iter()
            .enumerate()
            .map(|(number, mistake)| LineMark {
                line: mistake.line,
                mark: CellMark { from: mistake.cells.start, to: mistake.cells.end, number: number + 1 },
            })
            .collect(),
    });
    let above = use_memo((proof.clone(), props.plants.beside), |(proof, beside)| {
        let mut last = None;
        proof
            .blocks
            .iter()
            .map(|block| {
                let new = block.filter(|block| *beside && last != Some(*block));
                last = block.or(last);
                new.and_then(|block| proof.print.get(block)).map(|print| AttrValue::from(print.clone()))
            })
            .collect::<Vec<_>>()
    });
    let help = props.set.as_ref().is_none_or(|set| set.help);
    let reads = lines.get(at.0).filter(|_| *shown).map(|line| {
        crate::ueb::read(
            line,
            &crate::ueb::ReadOptions { contracted: props.contracted, ..Default::default() },
        )
        .print
    });
    let marked_here = calls.iter().find(|call| (call.line, call.cell) == *at);
    html! {
        <section aria-label="Sheet to proofread">
            <p class="note">{ "Move to a cell that is wrong, by pointer or arrow keys, say what kind of mistake it is, and mark it (Enter). Where something is missing, mark a cell beside the gap." }</p>
            <div class="reading-room wide-sheet">
                <Sheet label="Braille to proofread" lines={lines.clone()} look={props.plants.look} above={above.clone()} marks={marks} at={*at} {on_move} on_act={call} />
                <aside aria-label="At the cursor" class="beside">
                    <p class="place">{ said(&lines, *at) }</p>
                    if !done {
                        <label>{ "Kind of mistake" }<br />
                            <select onchange={said_kind}>
                                <option value="" selected={marked_here.map_or(*kind, |call| call.kind).is_none()}>{ "not said" }</option>
                                { for KINDS.iter().map(|one| html! {
                                    <option value={one.name()} selected={marked_here.map_or(*kind, |call| call.kind) == Some(*one)}>{ one.words() }</option>
                                }) }
                            </select>
                        </label>
                        <div class="controls">
                            <button type="button" class="main" onclick={press}>{ if marked_here.is_some() { "Take the mark off" } else { "Mark this cell" } }</button>
                        </div>
                        <p role="status" aria-label="Marked">{ match calls.len() { 0 => "Nothing marked yet.".to_owned(), 1 => "1 cell marked.".to_owned(), n => format!("{n} cells marked.") } }</p>
                        if help {
                            <button type="button" class="quiet" onclick={read_out} aria-expanded={if *shown { "true" } else { "false" }}>{ "What does this line read as?" }</button>
                            if let Some(reads) = reads { <p class="serif">{ cells_line::without_glyphs(&reads) }</p> }
                        }
                        <div class="controls"><button type="button" onclick={hand_in}>{ "I am done" }</button></div>
                    }
                    if let Some(score) = score.as_ref() {
                        <p role="status" aria-label="Score">{ score_words(&proof, score) }</p>
                    }
                </aside>
            </div>
            if let Some(score) = score.as_ref() {
                <Scored proof={proof.clone()} score={score.clone()} calls={(*calls).clone()} go={{ let at = at.clone(); Callback::from(move |to| at.set(to)) }} />
                if let Some(set) = &props.set {
                    <HandIn slip={slip(set, &proof, score, &calls, *seconds, *helped)} />
                }
            }
        </section>
    }
}

fn slip(set: &Exercise, proof: &Proof, score: &Score, calls: &[Call], seconds: u32, helped: bool) -> Slip {
    let mut findings: Vec<Count> = Vec::new();
    for at in &score.missed {
        let name = format!("missed: {}", proof.planted[*at].kind.words());
        match findings.iter_mut().find(|count| count.name == name) {
            Some(count) => count.times += 1,
            None => findings.push(Count { name, times: 1 }),
        }
    }
    if score.false_alarms > 0 {
        findings.push(Count { name: "false alarms".to_owned(), times: score.false_alarms as u32 });
    }
    Slip {
        title: set.title.clone(),
        task: Task::Proofread,
        right: score.found as u32,
        asked: proof.planted.len() as u32,
        seconds,
        helped,
        findings,
        work: proofread::calls_to_text(calls),
        set: Some(set.clone()),
        ..Slip::default()
    }
}

/// A trial of the learner's own: a whole text without help, against a pass line.
#[component]
fn TrialOwn() -> Html {
    let supply = use_supply();
    let settings = use_settings();
    let text = use_state_eq(|| AttrValue::Static(NOTICE));
    let tenths = use_state_eq(|| Trial::default().tenths);
    let begun = use_state_eq(|| false);
    let passage = {
        let (text, supply) = (text.clone(), supply.clone());
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let chosen = select.value().parse::<usize>().ok();
            let found = supply.here().and_then(|supply| supply.passages.get(chosen?));
            text.set(
                found.map_or(AttrValue::Static(NOTICE), |passage| AttrValue::from(passage.text.clone())),
            );
        })
    };
    let line = {
        let tenths = tenths.clone();
        Callback::from(move |event: InputEvent| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            if let Ok(mistakes) = input.value().parse::<f64>() {
                tenths.set((mistakes.clamp(0.0, 100.0) * 10.0).round() as u16);
            }
        })
    };
    let begin = {
        let begun = begun.clone();
        Callback::from(move |_: MouseEvent| begun.set(true))
    };
    if *begun {
        let set = Exercise {
            title: "Trial hand-in".to_owned(),
            text: text.to_string(),
            task: Task::Transcribe,
            contracted: settings.contracted,
            hide_reading: true,
            help: false,
            trial: Some(Trial { tenths: *tenths, ..Trial::default() }),
            ..Exercise::default()
        };
        return html! { <transcribe::Desk set={Some(Rc::new(set))} /> };
    }
    html! {
        <section aria-label="Trial hand-in">
            <p>{ "A whole piece without help: no reading, no clues, no answers. It is marked by mistakes a page and by cause against the pass line, and you have a second try that shows which causes were cured and which came back." }</p>
            <div class="set">
                <label>{ "Text" }<br />
                    <select onchange={passage}>
                        <option value="">{ "Lost and found" }</option>
                        if let Stock::Here(supply) = &supply {
                            { for supply.passages.iter().enumerate().filter(|(_, p)| p.contracted == settings.contracted).map(|(n, passage)| html! {
                                <option value={n.to_string()}>{ &passage.title }</option>
                            }) }
                        }
                    </select>
                </label>
                <label>{ "Pass line: at most so many mistakes a page" }<br />
                    <input type="number" min="0" max="100" step="0.5" value={format!("{}", f64::from(*tenths) / 10.0)} oninput={line} />
                </label>
            </div>
            <div class="controls"><button type="button" class="main" onclick={begin}>{ "Begin the trial" }</button></div>
        </section>
    }
}
