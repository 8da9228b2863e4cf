//! A sheet with planted mistakes at work: the learner's calls, kept between visits, and the score.

use std::ops::Range;
use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::proofread::{self, Plants, Proof};
use crate::exercise::{Exercise, Slip};
use crate::page::browser::clock::now;
use crate::page::learner::journal::use_learner;
use crate::page::learner::rehearsal::use_name;
use crate::page::learner::settings::use_settings;
use crate::page::marked::hand_in::HandIn;
use crate::page::marked::progress::use_progress_of;
use crate::page::marked::scored::{Scored, score_words};
use crate::page::rooms::proofread::at_cursor::AtCursor;
use crate::page::rooms::proofread::work_state::{use_kept_sheet, use_old_tries, use_proof_sheet};
use crate::page::states::proof_sheet::{Action, ProofSheet, answers};
use crate::page::widgets::cells_line::{self, CellMark, LineMark};
use crate::page::widgets::sheet::Sheet;
use crate::page::widgets::switch::numbers_only;
use crate::practice::record::Event as Happened;
use crate::ueb::{self, ReadOptions};

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
    let kept = use_kept_sheet(name, &proof);
    let (sheet, act) = use_proof_sheet(&kept, &proof);
    let progress = use_progress_of(&props.set);
    use_old_tries(&kept, &proof, &progress);
    let since = use_mut_ref(now);
    let done = sheet.score.is_some();
    {
        let on_calls = props.on_calls.clone();
        use_effect_with(sheet.calls.len(), move |calls| on_calls.emit(*calls));
    }
    let hand_in = {
        let (proof, sheet, since, learner) = (proof.clone(), sheet.clone(), since.clone(), learner);
        let (progress, act) = (progress.clone(), act.clone());
        Callback::from(move |_: MouseEvent| {
            let score = proof.score(&sheet.calls);
            let time = now().saturating_sub(*since.borrow());
            progress.hand_in(Some(&proof), proofread::calls_to_text(&sheet.calls), sheet.helped, true);
            let answers = answers(&proof, &score, now(), time);
            learner.add_all(&answers.into_iter().map(Happened::Answer).collect::<Vec<_>>());
            act.emit(Action::Done(Rc::new(score)));
        })
    };
    let again = {
        let (progress, act, since) = (progress.clone(), act.clone(), since.clone());
        Callback::from(move |()| {
            progress.again();
            act.emit(Action::Again);
            *since.borrow_mut() = now();
        })
    };
    let again = Some(again).filter(|_| done && props.set.is_some() && !progress.used_up());
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
    let reads = lines.get(sheet.at.0).filter(|_| sheet.shown && !done).map(|line| {
        let (contracted, edition) = (props.contracted, settings.edition());
        ueb::read(line, &ReadOptions { contracted, edition, ..ReadOptions::default() }).print
    });
    let score = sheet.score.as_ref().map(|score| score_words(&proof, score)).unwrap_or_default();
    html! {
        <section aria-label="Sheet to proofread">
            <p class="note">{ "Move to a cell that is wrong, by pointer or arrow keys, say what kind of mistake it is, and mark it (Enter). Where something is missing, mark a cell beside the gap." }</p>
            <div class="reading-room wide-sheet">
                <Sheet label="Braille to proofread" lines={lines.clone()} look={props.plants.look} above={above} marks={marks_of(&sheet, &proof)} at={sheet.at}
                    on_move={act.reform(Action::Move)} on_act={act.reform(|()| Action::Call)} />
                <AtCursor {lines} sheet={(*sheet).clone()} {score} {again} act={act.clone()} />
            </div>
            <div class="controls under">
                { numbers_only(&settings) }
                if !done {
                    if help {
                        <button type="button" class="quiet" onclick={act.reform(|_: MouseEvent| Action::ReadOut)} aria-expanded={if sheet.shown { "true" } else { "false" }}>{ "What does this line read as?" }</button>
                    }
                    <span class="push">{ props.beside.clone() }<button type="button" onclick={hand_in}>{ "I am done" }</button></span>
                }
            </div>
            <p class="serif" role="status" aria-label="Line reads as">{ reads.map(|reads| cells_line::without_glyphs(&reads)).unwrap_or_default() }</p>
            if let Some(score) = &sheet.score {
                <Scored proof={proof.clone()} score={score.clone()} calls={sheet.calls.clone()} go={act.reform(Action::Move)} />
                { props.beside.clone() }
            }
            if let Some(set) = props.set.as_ref().filter(|_| !progress.tries.is_empty() && !progress.in_set()) {
                <HandIn slip={Slip::of(set, &progress.tries, Some(&proof))} name={progress.name().to_owned()} />
            }
        </section>
    }
}

/// The cells that are called wrong; once the sheet is done, those that were planted.
fn marks_of(sheet: &ProofSheet, proof: &Proof) -> Rc<Vec<LineMark>> {
    let mark = |number: usize, line: usize, cells: Range<usize>| LineMark {
        line,
        mark: CellMark { from: cells.start, to: cells.end, number: number + 1 },
    };
    Rc::new(match sheet.score {
        None => {
            let calls = sheet.calls.iter().enumerate();
            calls.map(|(number, call)| mark(number, call.line, call.cell..call.cell + 1)).collect()
        }
        Some(_) => {
            let planted = proof.planted.iter().enumerate();
            planted.map(|(number, mistake)| mark(number, mistake.line, mistake.cells.clone())).collect()
        }
    })
}
