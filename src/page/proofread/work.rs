//! A sheet with planted mistakes at work: the learner's calls, kept between visits, and the score.

use std::rc::Rc;

use yew::prelude::*;

use super::super::braille_input::LineMark;
use super::super::cells_line::{self, CellMark};
use super::super::hand_in::HandIn;
use super::super::held::use_held;
use super::super::learner::{now, use_learner};
use super::super::scored::{Scored, score_words};
use super::super::settings::use_settings;
use super::super::sheet::{Sheet, said};
use super::super::store::{self, StoreError};
use super::super::work;
use super::super::write::{Switch, change};
use crate::cell::{self, Cell};
use crate::exercise::proofread::{self, Call, Plants, Proof};
use crate::exercise::{Exercise, Slip};
use crate::marking::Kind;
use crate::marking::plant::KINDS;
use crate::practice::record::{Answer, Direction, Event as Happened};

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
    /// The name under which what is marked is kept.
    pub name: AttrValue,
    /// What else can be done: beside the learner's own "I am done", and after the score.
    #[prop_or_default]
    pub beside: Html,
}

/// What is kept between visits, for the sheet it was marked on.
#[derive(Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
struct Kept {
    /// The sheet, by a check sum of its cells.
    sheet: String,
    calls: String,
    seconds: u32,
    helped: bool,
    done: bool,
}

const VERSION: u32 = 1;

/// A name for a sheet's cells.
fn name_of(proof: &Proof) -> String {
    let lines: Vec<String> = proof.lines.iter().map(|line| cell::to_ascii(line)).collect();
    work::name_of("sheet", &lines.join("\n"))
}

/// A sheet, the learner's calls, and the score.
#[component]
pub fn Work(props: &WorkProps) -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let proof = use_memo(
        (props.text.clone(), props.contracted, props.plants.clone()),
        |(text, contracted, plants)| proofread::proof(text, *contracted, plants),
    );
    let lines = use_memo(proof.clone(), |proof| {
        proof.lines.iter().map(|line| Rc::from(line.as_slice())).collect::<Vec<Rc<[Cell]>>>()
    });
    let name = work::use_name(|| props.name.to_string());
    let kept = use_memo((), |()| {
        let kept = if name.is_empty() { None } else { store::load_any::<Kept>(&name, VERSION) };
        let kept = kept.unwrap_or_default();
        // What was marked on another sheet says nothing of this one.
        if kept.sheet == name_of(&proof) { kept } else { Kept::default() }
    });
    let at = use_held(|| (0usize, 0usize));
    let calls = use_held(|| proofread::calls_of_text(&kept.calls));
    let kind = use_held(Option::<Kind>::default);
    let score = use_held(|| kept.done.then(|| Rc::new(proof.score(&proofread::calls_of_text(&kept.calls)))));
    let seconds = use_held(|| kept.seconds);
    // As if it had been begun without a break between visits.
    let since = use_mut_ref(|| now().saturating_sub(u64::from(kept.seconds) * 1000));
    let shown = use_held(bool::default);
    let helped = use_held(|| kept.helped);
    let refused = use_held(Option::<&'static str>::default);
    {
        let (proof, name, since, refused) = (proof.clone(), name, since.clone(), refused.clone());
        let now_kept = ((*calls).clone(), *helped, score.is_some(), *seconds);
        use_effect_with(now_kept, move |(calls, helped, done, seconds)| {
            if name.is_empty() {
                return;
            }
            let so_far = (now().saturating_sub(*since.borrow()) / 1000) as u32;
            let kept = Kept {
                sheet: name_of(&proof),
                calls: proofread::calls_to_text(calls),
                seconds: if *done { *seconds } else { so_far },
                helped: *helped,
                done: *done,
            };
            // A sheet on which nothing is marked has nothing to keep.
            if !calls.is_empty() || *done {
                refused.set(store::save_any(&name, VERSION, &kept).err().map(StoreError::words));
            } else if store::load_any::<Kept>(&name, VERSION)
                .is_some_and(|kept| kept.sheet == name_of(&proof))
            {
                store::forget(&name);
            }
        });
    }
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
    let again = {
        let (calls, score, since, helped) = (calls.clone(), score.clone(), since.clone(), helped.clone());
        Callback::from(move |_: MouseEvent| {
            calls.set(Vec::new());
            score.set(None);
            helped.set(false);
            *since.borrow_mut() = now();
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
                <aside aria-label="At the cursor" class={classes!("beside", done.then_some("done"))}>
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
                    }
                    if let Some(score) = score.as_ref() {
                        <p role="status" aria-label="Score">{ score_words(&proof, score) }</p>
                        if props.set.is_some() { <button type="button" class="quiet" onclick={again}>{ "Proofread it again" }</button> }
                    }
                </aside>
            </div>
            <div class="controls under">
                <Switch label="Dot numbers only" on={settings.dot_numbers_only} set={change(&settings, |s, on| s.dot_numbers_only = on)} />
                if !done {
                    if help {
                        <button type="button" class="quiet" onclick={read_out} aria-expanded={if *shown { "true" } else { "false" }}>{ "What does this line read as?" }</button>
                    }
                    <span class="push">{ props.beside.clone() }<button type="button" onclick={hand_in}>{ "I am done" }</button></span>
                }
            </div>
            if let Some(reads) = reads.filter(|_| !done) { <p class="serif" role="status" aria-label="Line reads as">{ cells_line::without_glyphs(&reads) }</p> }
            if let Some(say) = *refused { <p class="alert" role="alert">{ say }</p> }
            if let Some(score) = score.as_ref() {
                <Scored proof={proof.clone()} score={score.clone()} calls={(*calls).clone()} go={{ let at = at.clone(); Callback::from(move |to| at.set(to)) }} />
                if let Some(set) = &props.set {
                    <HandIn slip={Slip::of_proof(set, &proof, &calls, *seconds, *helped)} />
                }
                { props.beside.clone() }
            }
        </section>
    }
}
