//! Sheets of the learner's own: which text, how many mistakes, of what kinds, how shown.

use yew::prelude::*;

use crate::exercise::Plants;
use crate::exercise::proofread::Look;
use crate::marking::Kind;
use crate::marking::plant::KINDS;
use crate::page::browser::clock::seed;
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::browser::undo_key::use_undo_key;
use crate::page::learner::journal::use_learner;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::proofread::notice::NOTICE;
use crate::page::rooms::proofread::work::Work;
use crate::page::rooms::transcribe::own_slips::own_causes;
use crate::page::widgets::bring_back::BringBack;
use crate::page::widgets::passage_choice::PassageChoice;
use crate::page::widgets::switch::{Switch, edition_switch};

const KEY: &str = "proofread.own";
const VERSION: u32 = 1;
/// Where what is marked on the sheet is kept.
const SHEET: &str = "work.proofread.own";

/// The sheet that lies there, kept between visits.
#[derive(serde::Serialize, serde::Deserialize)]
struct Kept {
    text: String,
    plants: Plants,
}

/// How many mistakes: words for about so many in a thousand cells.
const RATES: [(u16, &str); 4] = [(8, "few"), (20, "some"), (45, "many"), (90, "very many")];

fn keep(text: &str, plants: &Plants) {
    // A browser that keeps nothing plants another sheet the next time.
    let _ = store::save_any(KEY, VERSION, &Kept { text: text.to_owned(), plants: plants.clone() });
}

/// The choice, and the sheet.
#[component]
pub fn Own() -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let causes = {
        let learner = learner.clone();
        move || own_causes(&learner)
    };
    let fresh = || Plants {
        seed: seed() as u32 % 1_000_000,
        layout: true,
        own: own_causes(&learner),
        ..Plants::default()
    };
    let kept = use_memo((), |()| store::load_any::<Kept>(KEY, VERSION));
    let text = use_held(|| {
        kept.as_ref().as_ref().map_or(AttrValue::Static(NOTICE), |kept| kept.text.clone().into())
    });
    let plants = use_held(|| kept.as_ref().as_ref().map_or_else(fresh, |kept| kept.plants.clone()));
    use_effect_with(((*text).clone(), (*plants).clone()), |(text, plants)| keep(text, plants));
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
    let choose = {
        let (lay, plants) = (lay.clone(), plants.clone());
        Callback::from(move |chosen: Option<(AttrValue, AttrValue)>| {
            let text = chosen.map_or(AttrValue::Static(NOTICE), |(_, chosen)| chosen);
            lay.emit((text, (*plants).clone()));
        })
    };
    let own_text = {
        let (lay, plants) = (lay.clone(), plants.clone());
        Callback::from(move |event: Event| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            if !area.value().trim().is_empty() {
                // At once: a page that is being closed draws nothing any more.
                keep(&area.value(), &plants);
                lay.emit((area.value().into(), (*plants).clone()));
            }
        })
    };
    let rate = {
        let (lay, text, plants) = (lay.clone(), text.clone(), plants.clone());
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let rate = select.value().parse().unwrap_or(20);
            lay.emit(((*text).clone(), Plants { rate, ..(*plants).clone() }));
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
        let (lay, text, plants, causes) = (lay.clone(), text.clone(), plants.clone(), causes.clone());
        Callback::from(move |_: MouseEvent| {
            // What went wrong since then counts too.
            let own = if plants.own.is_empty() { Vec::new() } else { causes() };
            lay.emit(((*text).clone(), Plants { seed: seed() as u32 % 1_000_000, own, ..(*plants).clone() }));
        })
    };
    let changed = |with: fn(&mut Plants, bool, Vec<String>)| {
        let (lay, text, plants, causes) = (lay.clone(), text.clone(), plants.clone(), causes.clone());
        Callback::from(move |on: bool| {
            let mut next = (*plants).clone();
            with(&mut next, on, causes());
            lay.emit(((*text).clone(), next));
        })
    };
    let layout = changed(|plants, on, _| plants.layout = on);
    let own_first = changed(|plants, on, causes| plants.own = if on { causes } else { Vec::new() });
    let nothing_known = plants.own.is_empty() && causes().is_empty();
    let kind = |kind: Kind| {
        let (lay, text, plants) = (lay.clone(), text.clone(), plants.clone());
        Callback::from(move |on: bool| {
            let mut kinds = plants.kinds.clone();
            kinds.retain(|name| name != kind.name());
            if on {
                kinds.push(kind.name().to_owned());
            }
            lay.emit(((*text).clone(), Plants { kinds, ..(*plants).clone() }));
        })
    };
    html! {
        <>
            <details class="more">
                <summary>{ "Text and difficulty" }</summary>
                <div class="set">
                    <PassageChoice label="Text" first="Lost and found" text={(*text).clone()} contracted={settings.contracted} on_choose={choose} />
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
                    <Switch label="Faults of layout too" on={plants.layout} set={layout} />
                    if nothing_known {
                        <p class="note">{ "Your most frequent slips are planted first, as soon as some are known from marked work or from “My own slips” in Transcribe." }</p>
                    } else {
                        <Switch label="My most frequent slips first" on={!plants.own.is_empty()} set={own_first} />
                    }
                    { edition_switch(&settings) }
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
            <BringBack what="The sheet before is set aside, with its marks. " back={bring_back} />
            <Work key={format!("{:?}{}", *plants, &*text)} text={(*text).clone()} contracted={settings.contracted} plants={(*plants).clone()} name={SHEET} {on_calls}
                beside={html! { <button type="button" onclick={again}>{ "Another sheet" }</button> }} />
        </>
    }
}
