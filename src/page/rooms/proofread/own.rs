//! Sheets of the learner's own: which text, how many mistakes, of what kinds, how shown.

use yew::prelude::*;

use crate::exercise::Plants;
use crate::page::browser::clock::seed;
use crate::page::browser::held::use_held;
use crate::page::browser::undo_key::use_undo_key;
use crate::page::learner::journal::use_learner;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::proofread::kept_own;
use crate::page::rooms::proofread::notice::NOTICE;
use crate::page::rooms::proofread::own_choice::OwnChoice;
use crate::page::rooms::proofread::work::Work;
use crate::page::rooms::transcribe::own_slips::own_causes;
use crate::page::widgets::bring_back::BringBack;

/// Where what is marked on the sheet is kept.
const SHEET: &str = "work.proofread.own";

/// The choice, and the sheet.
#[component]
pub fn Own() -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let fresh = || Plants {
        seed: seed() as u32 % 1_000_000,
        layout: true,
        own: own_causes(&learner),
        ..Plants::default()
    };
    let kept = use_memo((), |()| kept_own::load());
    let text = use_held(|| {
        kept.as_ref().as_ref().map_or(AttrValue::Static(NOTICE), |kept| kept.text.clone().into())
    });
    let plants = use_held(|| kept.as_ref().as_ref().map_or_else(fresh, |kept| kept.plants.clone()));
    use_effect_with(((*text).clone(), (*plants).clone()), |(text, plants)| kept_own::keep(text, plants));
    // The sheet that another took the place of just now, with something marked on it. Its marks are kept until something is
    // marked on the other.
    let before = use_held(Option::<(AttrValue, Plants)>::default);
    let marked = use_mut_ref(usize::default);
    let lay = {
        let (text, plants, before, marked) = (text.clone(), plants.clone(), before.clone(), marked.clone());
        Callback::from(move |(new, planted): (AttrValue, Plants)| {
            if *marked.borrow() > 0 {
                before.set(Some(((*text).clone(), (*plants).clone())));
            }
            text.set(new);
            plants.set(planted);
        })
    };
    let on_calls = {
        let (before, marked) = (before.clone(), marked.clone());
        use_callback((), move |calls: usize, ()| {
            *marked.borrow_mut() = calls;
            if calls > 0 {
                before.set(None);
            }
        })
    };
    let bring_back = before.as_ref().map(|(old, planted)| {
        let (text, plants, before) = (text.clone(), plants.clone(), before.clone());
        let (old, planted) = (old.clone(), planted.clone());
        Callback::from(move |()| {
            text.set(old.clone());
            plants.set(planted.clone());
            before.set(None);
        })
    });
    use_undo_key(bring_back.clone());
    let again = {
        let (lay, text, plants, learner) = (lay.clone(), text.clone(), plants.clone(), learner.clone());
        Callback::from(move |_: MouseEvent| {
            // What went wrong since then counts too.
            let own = if plants.own.is_empty() { Vec::new() } else { own_causes(&learner) };
            lay.emit(((*text).clone(), Plants { seed: seed() as u32 % 1_000_000, own, ..(*plants).clone() }));
        })
    };
    let look = {
        let plants = plants.clone();
        Callback::from(move |planted: Plants| plants.set(planted))
    };
    html! {
        <>
            <OwnChoice text={(*text).clone()} plants={(*plants).clone()} {lay} {look} />
            <BringBack what="The sheet before is set aside, with its marks. " back={bring_back} />
            <Work key={format!("{:?}{}", *plants, &*text)} text={(*text).clone()} contracted={settings.contracted} plants={(*plants).clone()} name={SHEET} {on_calls}
                beside={html! { <button type="button" onclick={again}>{ "Another sheet" }</button> }} />
        </>
    }
}
