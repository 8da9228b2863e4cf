//! Which letters of a word are contracted, and why not the others.

use yew::prelude::*;

use crate::page::browser::clock::{now, seed};
use crate::page::browser::held::use_held;
use crate::page::drills::props::{DrillProps, EMPTY, no_words};
use crate::page::drills::reasons::Reasons;
use crate::page::widgets::fields::{text_of, use_focus};
use crate::practice::record::{Answer, Direction};
use crate::practice::rules::{self, Item};
use crate::practice::{clauses, turning};

#[derive(Clone, PartialEq)]
enum Stage {
    /// Which letters?
    Letters,
    /// Why is this one not used? The reasons to choose from, and whether the letters were told right: that is said after the
    /// answer, or it would give it away.
    Why(usize, Vec<&'static str>, bool),
}

/// The drill.
#[component]
pub fn RuleDrill(props: &DrillProps) -> Html {
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let draw = |last: Option<&str>, chance: &mut fastrand::Rng| {
        props.supply.as_ref().and_then(|supply| turning::next(supply, props.unit, &props.only, last, chance))
    };
    let item = use_held(|| draw(None, &mut chance.borrow_mut()));
    let stage = use_held(|| Stage::Letters);
    let turn = use_held(u32::default);
    let typed = use_held(String::new);
    let said = use_held(Vec::<String>::default);
    let since = use_mut_ref(now);
    let field = use_focus(*turn * 2 + u32::from(*stage != Stage::Letters));
    let here = props.supply.is_some();
    {
        let (item, new) =
            (item.clone(), if item.is_none() { draw(None, &mut chance.borrow_mut()) } else { None });
        use_effect_with(here, move |_| {
            if new.is_some() {
                item.set(new);
            }
        });
    }
    {
        let since = since.clone();
        use_effect_with((*turn, (*stage).clone()), move |_| *since.borrow_mut() = now());
    }
    let Some(now_asked) = (*item).clone() else { return no_words() };
    let keep = {
        let (props, since) = (props.clone(), since.clone());
        move |sign: &str, right: bool, instead: &str| {
            props.learner.answer(Answer {
                at: now(),
                sign: sign.to_owned(),
                direction: Direction::Rule,
                right,
                ms: now().saturating_sub(*since.borrow()),
                clues: 0,
                instead: if right { String::new() } else { instead.to_owned() },
                cause: if right { String::new() } else { "rule".to_owned() },
            });
            props.on_answer.emit(right);
        }
    };
    let next = {
        let (item, stage, turn, typed, chance, props) =
            (item.clone(), stage.clone(), turn.clone(), typed.clone(), chance.clone(), props.clone());
        move |last: &str| {
            let mut chance = chance.borrow_mut();
            let new = props
                .supply
                .as_ref()
                .and_then(|supply| turning::next(supply, props.unit, &props.only, Some(last), &mut chance));
            item.set(new);
            stage.set(Stage::Letters);
            typed.set(String::new());
            turn.set(*turn + 1);
        }
    };
    let onsubmit = {
        let (stage, typed, said, chance, keep, next, asked) = (
            stage.clone(),
            typed.clone(),
            said.clone(),
            chance.clone(),
            keep.clone(),
            next.clone(),
            now_asked.clone(),
        );
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            // Enter on an empty field does nothing.
            if typed.trim().is_empty() {
                said.set(vec![EMPTY.to_owned()]);
                return;
            }
            let right = rules::judge(&asked, &typed);
            let section = asked.used.first().map(|(_, _, section)| *section);
            if let Some(section) = section.or(asked.passed.first().map(|passed| passed.section)) {
                keep(&clauses::key(section), right, &typed);
            }
            let mut chance = chance.borrow_mut();
            let which = chance.usize(..asked.passed.len().max(1));
            match asked.passed.get(which) {
                Some(passed) => {
                    let reasons = rules::reasons(&asked.word, passed, &mut chance);
                    said.set(Vec::new());
                    stage.set(Stage::Why(which, reasons, right));
                }
                None => {
                    drop(chance);
                    said.set(says(&asked, right));
                    next(&asked.word);
                }
            }
        })
    };
    let choose = {
        let (stage, said, keep, next, asked) =
            (stage.clone(), said.clone(), keep.clone(), next.clone(), now_asked.clone());
        Callback::from(move |n: usize| {
            let Stage::Why(which, reasons, letters) = &*stage else { return };
            let (Some(passed), Some(reason)) = (asked.passed.get(*which), reasons.get(n)) else { return };
            let right = *reason == passed.why;
            keep(&clauses::key(passed.section), right, reason);
            let mut all = says(&asked, *letters);
            all.push(format!(
                "{}{} is not used in {}: {} (section {}).",
                if right { "Right. " } else { "" },
                passed.letters,
                asked.word,
                passed.why,
                passed.section
            ));
            said.set(all);
            next(&asked.word);
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    html! {
        <div class="drill">
            <div aria-live="polite"><p id="asked" class="copy">{ &now_asked.word }</p></div>
            { match &*stage {
                Stage::Letters => html! {
                    <form {onsubmit}>
                        <label>{ "Contracted letters, in order, a space between (or \"none\") " }
                            <input ref={field} type="text" aria-describedby="asked" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} />
                        </label>
                        <button class="main" type="submit">{ "Answer" }</button>
                    </form>
                },
                Stage::Why(which, reasons, _) => {
                    let letters = now_asked.passed.get(*which).map(|passed| passed.letters.to_string());
                    html! { <Reasons letters={letters.unwrap_or_default()} reasons={reasons.clone()} field={field.clone()} {choose} /> }
                }
            } }
            <div role="status" class="before">{ for said.iter().map(|line| html! { <p>{ line }</p> }) }</div>
        </div>
    }
}

fn says(item: &Item, right: bool) -> Vec<String> {
    let mut out = vec![format!("{}{}", if right { "Right: " } else { "It is " }, rules::taken_apart(item))];
    for (letters, _, section) in &item.used {
        out.push(format!("{letters} is contracted (section {section})."));
    }
    out
}
