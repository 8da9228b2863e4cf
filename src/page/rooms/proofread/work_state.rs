//! What is marked on a sheet, as the browser keeps it.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell;
use crate::exercise::proofread::{self, Proof};
use crate::page::browser::store;
use crate::page::marked::progress::Progress;
use crate::page::states::proof_sheet::{Action, ProofSheet};
use crate::page::surface::work;

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

/// A name for a sheet's cells.
fn name_of(proof: &Proof) -> String {
    let lines: Vec<String> = proof.lines.iter().map(|line| cell::to_ascii(line)).collect();
    work::name_of("sheet", &lines.join("\n"))
}

impl Reducible for ProofSheet {
    type Action = Action;

    fn reduce(self: Rc<Self>, action: Action) -> Rc<Self> {
        Rc::new((*self).clone().after(action))
    }
}

/// What is kept of a sheet under a name, and how it was when the room was opened.
#[derive(Clone)]
pub struct KeptSheet {
    name: String,
    first: Rc<Kept>,
}

/// What was kept under a name; what was marked on another sheet says nothing of this one.
#[hook]
pub fn use_kept_sheet(name: String, proof: &Proof) -> KeptSheet {
    let first = use_memo((), |()| {
        let kept = if name.is_empty() { None } else { store::load_any::<Kept>(&name, VERSION) };
        kept.filter(|kept| kept.sheet == name_of(proof)).unwrap_or_default()
    });
    KeptSheet { name, first }
}

/// The sheet as it was left, and the way to what comes after; it is kept whenever it changes.
#[hook]
pub fn use_proof_sheet(
    kept: &KeptSheet,
    proof: &Rc<Proof>,
) -> (UseReducerHandle<ProofSheet>, Callback<Action>) {
    let sheet = use_reducer_eq(|| {
        let calls = proofread::calls_of_text(&kept.first.calls);
        let score = kept.first.done.then(|| Rc::new(proof.score(&calls)));
        ProofSheet { calls, score, helped: kept.first.helped, ..ProofSheet::default() }
    });
    let (proof, name) = (proof.clone(), kept.name.clone());
    let now_kept = (sheet.calls.clone(), sheet.helped, sheet.score.is_some());
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
        } else if store::load_any::<Kept>(&name, VERSION).is_some_and(|kept| kept.sheet == name_of(&proof)) {
            store::forget(&name);
        }
    });
    let dispatcher = sheet.dispatcher();
    let act = use_callback((), move |action: Action, ()| dispatcher.dispatch(action));
    (sheet, act)
}

/// An exercise that was done before tries were kept is handed in as it was.
#[hook]
pub fn use_old_tries(kept: &KeptSheet, proof: &Rc<Proof>, progress: &Progress) {
    let (progress, kept, proof) = (progress.clone(), kept.first.clone(), proof.clone());
    use_effect_with((), move |()| {
        if kept.done && progress.tries.is_empty() {
            progress.hand_in_of(Some(&proof), kept.calls.clone(), kept.seconds, kept.helped, true);
        }
    });
}
