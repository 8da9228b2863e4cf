//! A sheet with planted mistakes at work: the learner's calls, kept between visits, and the score.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::{self, Cell};
use crate::exercise::proofread::{self, Call, Plants, Proof};
use crate::exercise::{Exercise, Slip};
use crate::marking::Kind;
use crate::marking::plant::KINDS;
use crate::page::browser::clock::now;
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::learner::journal::use_learner;
use crate::page::learner::rehearsal::use_name;
use crate::page::learner::settings::use_settings;
use crate::page::marked::hand_in::HandIn;
use crate::page::marked::progress::use_progress_of;
use crate::page::marked::scored::{Scored, score_words};
use crate::page::surface::work;
use crate::page::widgets::cells_line::{self, CellMark, LineMark};
use crate::page::widgets::sheet::{Sheet, Steps, said};
use crate::page::widgets::sheet_text::focus_sheet;
use crate::page::widgets::switch::numbers_only;
use crate::practice::record::{Answer, Direction, Event as Happened};
use crate::practice::{clauses, lines};

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
    /// Called with how many cells are marked, when the sheet is laid down and whenever that changes.
    #[prop_or_default]
    pub on_calls: Callback<usize>,
}

/// What is kept between visits, for the sheet it was marked on.
#[derive(Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
struct Kept {
    /// The sheet, by a check sum of its cells.
    sheet: String,
    calls: String,
    /// How long it took, of a sheet that was done before tries were kept.
    #[serde(skip_serializing)]
    seconds: u32,
    helped: bool,
    done: bool,
}

const VERSION: u32 = 1;

/// What a call of this kind says: a fault of layout is one of spacing.
fn call_words(kind: Kind) -> &'static str {
    if kind == Kind::Spacing { "spacing or layout" } else { kind.words() }
}

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
        (props.text.clone(), props.contracted, settings.edition(), props.plants.clone()),
        |(text, contracted, edition, plants)| proofread::proof_by(text, *contracted, *edition, plants),
    );
    let lines = use_memo(proof.clone(), |proof| {
        proof.lines.iter().map(|line| Rc::from(line.as_slice())).collect::<Vec<Rc<[Cell]>>>()
    });
    let name = use_name(|| props.name.to_string());
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
    let progress = use_progress_of(&props.set);
    let since = use_mut_ref(now);
    {
        let (progress, kept, proof) = (progress.clone(), kept.clone(), proof.clone());
        use_effect_with((), move |()| {
            if kept.done && progress.tries.is_empty() {
                progress.hand_in_of(Some(&proof), kept.calls.clone(), kept.seconds, kept.helped, true);
            }
        });
    }
    let shown = use_held(bool::default);
    let helped = use_held(|| kept.helped);
    {
        let (proof, name) = (proof.clone(), name);
        let now_kept = ((*calls).clone(), *helped, score.is_some());
        use_effect_with(now_kept, move |(calls, helped, done)| {
            if name.is_empty() {
                return;
            }
            let kept = Kept {
                sheet: name_of(&proof),
                calls: proofread::calls_to_text(calls),
                seconds: 0,
                helped: *helped,
                done: *done,
            };
            // A sheet on which nothing is marked has nothing to keep.
            if !calls.is_empty() || *done {
                // What the browser does not take is held, and the page says so.
                let _ = store::save_any(&name, VERSION, &kept);
            } else if store::load_any::<Kept>(&name, VERSION)
                .is_some_and(|kept| kept.sheet == name_of(&proof))
            {
                store::forget(&name);
            }
        });
    }
    let done = score.is_some();
    {
        let on_calls = props.on_calls.clone();
        use_effect_with(calls.len(), move |calls| on_calls.emit(*calls));
    }

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
        Callback::from(move |_: MouseEvent| {
            call.emit(());
            // To the next cell: the button itself would take the mark off again.
            focus_sheet();
        })
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
        let (proof, calls, score, since, learner) =
            (proof.clone(), (*calls).clone(), score.clone(), since.clone(), learner.clone());
        let (progress, helped) = (progress.clone(), *helped);
        Callback::from(move |_: MouseEvent| {
            let came = proof.score(&calls);
            let time = now().saturating_sub(*since.borrow());
            progress.hand_in(Some(&proof), proofread::calls_to_text(&calls), helped, true);
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
                    // A slip of rule that was overlooked makes its clause due.
                    cause: match lines::cause(mistake.kind, true) {
                        _ if right => String::new(),
                        "rule" => clauses::cause("rule", &mistake.section),
                        _ => "eye".to_owned(),
                    },
                }));
            }
            learner.add_all(&events);
            score.set(Some(Rc::new(came)));
        })
    };
    let again = {
        let (calls, score, since, helped) = (calls.clone(), score.clone(), since.clone(), helped.clone());
        let progress = progress.clone();
        Callback::from(move |_: MouseEvent| {
            progress.again();
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
            &crate::ueb::ReadOptions {
                contracted: props.contracted,
                edition: settings.edition(),
                ..Default::default()
            },
        )
        .print
    });
    let marked_here = calls.iter().find(|call| (call.line, call.cell) == *at);
    html! {
        <section aria-label="Sheet to proofread">
            <p class="note">{ "Move to a cell that is wrong, by pointer or arrow keys, say what kind of mistake it is, and mark it (Enter). Where something is missing, mark a cell beside the gap." }</p>
            <div class="reading-room wide-sheet">
                <Sheet label="Braille to proofread" lines={lines.clone()} look={props.plants.look} above={above.clone()} marks={marks} at={*at} on_move={on_move.clone()} on_act={call} />
                <aside aria-label="At the cursor" class={classes!("beside", done.then_some("done"))}>
                    <p class="place">{ said(&lines, *at) }</p>
                    <Steps lines={lines.clone()} at={*at} on_move={on_move.clone()} />
                    if !done {
                        <label>{ "Kind of mistake" }<br />
                            <select onchange={said_kind}>
                                <option value="" selected={marked_here.map_or(*kind, |call| call.kind).is_none()}>{ "not said" }</option>
                                { for KINDS.iter().map(|one| html! {
                                    <option value={one.name()} selected={marked_here.map_or(*kind, |call| call.kind) == Some(*one)}>{ call_words(*one) }</option>
                                }) }
                            </select>
                        </label>
                        <div class="controls">
                            <button type="button" class="main" onclick={press}>{ if marked_here.is_some() { "Take the mark off" } else { "Mark this cell" } }</button>
                        </div>
                        <p role="status" aria-label="Marked">{ match calls.len() { 0 => "Nothing marked yet.".to_owned(), 1 => "1 cell marked.".to_owned(), n => format!("{n} cells marked.") } }</p>
                    }
                    <p role="status" aria-label="Score">{ score.as_ref().as_ref().map(|score| score_words(&proof, score)).unwrap_or_default() }</p>
                    if done {
                        if props.set.is_some() && !progress.used_up() { <button type="button" class="quiet" data-undoes="" onclick={again}>{ "Proofread it again" }</button> }
                    }
                </aside>
            </div>
            <div class="controls under">
                { numbers_only(&settings) }
                if !done {
                    if help {
                        <button type="button" class="quiet" onclick={read_out} aria-expanded={if *shown { "true" } else { "false" }}>{ "What does this line read as?" }</button>
                    }
                    <span class="push">{ props.beside.clone() }<button type="button" onclick={hand_in}>{ "I am done" }</button></span>
                }
            </div>
            <p class="serif" role="status" aria-label="Line reads as">{ reads.filter(|_| !done).map(|reads| cells_line::without_glyphs(&reads)).unwrap_or_default() }</p>
            if let Some(score) = score.as_ref() {
                <Scored proof={proof.clone()} score={score.clone()} calls={(*calls).clone()} go={{ let at = at.clone(); Callback::from(move |to| at.set(to)) }} />
                { props.beside.clone() }
            }
            if let Some(set) = props.set.as_ref().filter(|_| !progress.tries.is_empty() && !progress.in_set()) {
                <HandIn slip={Slip::of(set, &progress.tries, Some(&proof))} name={progress.name().to_owned()} />
            }
        </section>
    }
}
