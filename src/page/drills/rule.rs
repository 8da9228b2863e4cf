//! Which letters of a word are contracted, and why not the others.

use yew::prelude::*;

use super::super::held::use_held;
use super::{DrillProps, no_words, text_of, use_focus};
use crate::page::learner::{now, seed};
use crate::practice::record::{Answer, Direction};
use crate::practice::rules::{self, Item};

#[derive(Clone, PartialEq)]
enum Stage {
    /// Which letters?
    Letters,
    /// Why is this one not used? The reasons to choose from.
    Why(usize, Vec<&'static str>),
}

/// The drill.
#[component]
pub fn RuleDrill(props: &DrillProps) -> Html {
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let draw = |last: Option<&str>, chance: &mut fastrand::Rng| {
        props.supply.as_ref().and_then(|supply| rules::next(supply, props.unit, &props.only, last, chance))
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
                .and_then(|supply| rules::next(supply, props.unit, &props.only, Some(last), &mut chance));
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
            let right = rules::judge(&asked, &typed);
            let sign = asked.used.first().map(|(_, key, _)| *key).or(asked.passed.first().map(|p| p.sign));
            if let Some(sign) = sign {
                keep(sign, right, &typed);
            }
            said.set(says(&asked, right));
            match asked.passed.first() {
                Some(passed) => stage.set(Stage::Why(0, rules::reasons(passed, &mut chance.borrow_mut()))),
                None => next(&asked.word),
            }
        })
    };
    let choose = {
        let (stage, said, keep, next, asked) =
            (stage.clone(), said.clone(), keep.clone(), next.clone(), now_asked.clone());
        move |n: usize| {
            let Stage::Why(which, reasons) = &*stage else { return };
            let (Some(passed), Some(reason)) = (asked.passed.get(*which), reasons.get(n)) else { return };
            let right = *reason == passed.why;
            keep(passed.sign, right, reason);
            let mut all = (*said).clone();
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
        }
    };
    let onkeydown = {
        let choose = choose.clone();
        Callback::from(move |event: KeyboardEvent| {
            if let Ok(n @ 1..=4) = event.key().parse::<usize>() {
                event.prevent_default();
                choose(n - 1);
            }
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
                Stage::Why(which, reasons) => html! {
                    <div ref={field} tabindex="-1" role="group" aria-labelledby="why" {onkeydown}>
                        <p id="why">{ format!("Why is {} not used here? Press a number.", now_asked.passed.get(*which).map(|p| p.letters.clone()).unwrap_or_default()) }</p>
                        <ol class="reasons">{ for reasons.iter().enumerate().map(|(n, reason)| {
                            let onclick = { let choose = choose.clone(); Callback::from(move |_: MouseEvent| choose(n)) };
                            html! { <li><button type="button" {onclick}>{ format!("{} {reason}", n + 1) }</button></li> }
                        }) }</ol>
                    </div>
                },
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
