//! A session on the screen: how far one is, what stands there, what it was, and leaving.

use std::cell::RefCell;
use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::{now, seed};
use crate::page::browser::data::use_supply;
use crate::page::browser::held::use_held;
use crate::page::drills::session::scene::{bar, scene, under};
use crate::page::drills::session::summary::summary;
use crate::page::drills::session::{Way, keep, left_open};
use crate::page::learner::journal::{LearnerHandle, told};
use crate::page::learner::place::wishes;
use crate::page::learner::settings::use_settings;
use crate::page::widgets::fields::use_focus;
use crate::page::widgets::later::use_later;
use crate::practice::lines;
use crate::practice::session::Wishes;
use crate::practice::sitting::{Judges, Scene, Sitting};
use crate::practice::supply::Supply;

/// Whose session it is.
#[derive(Properties, PartialEq)]
pub struct SessionProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The unit, from 0, that is begun at: a session that was left open and began elsewhere does not go on.
    #[prop_or_default]
    pub from: Option<usize>,
}

/// The words and sentences, which may come after the session has begun.
#[derive(Clone)]
struct Words(Option<Rc<Supply>>);

impl PartialEq for Words {
    fn eq(&self, other: &Words) -> bool {
        self.0.is_some() == other.0.is_some()
    }
}

/// A session begins.
fn begin(learner: &LearnerHandle, wishes: Wishes, words: &Words) -> Sitting {
    let (record, memories) = (&learner.record, &learner.memories);
    let (sitting, events) = Sitting::begin(record, memories, wishes, words.0.as_deref(), now(), seed());
    learner.add_all(&events);
    keep(sitting.to_text().as_deref());
    sitting
}

/// The session that was left open goes on; if there is none, one begins.
fn go_on(learner: &LearnerHandle, wishes: Wishes, from: Option<usize>, words: &Words) -> Sitting {
    let (record, memories, words_here) = (&learner.record, &learner.memories, words.0.as_deref());
    let left = left_open()
        .and_then(|text| Sitting::from_text(&text, record, memories, wishes.rules, words_here, now()));
    let same = |sitting: &Sitting| from.is_none() || sitting.session().start() == from;
    let Some(sitting) = left.filter(same) else { return begin(learner, wishes, words) };
    // Left at what was told of a wrong answer, it goes on with a new item.
    keep(sitting.to_text().as_deref());
    sitting
}

/// The session: what was left open goes on, else one begins.
#[component]
pub fn SessionView(props: &SessionProps) -> Html {
    let (settings, later) = (use_settings(), use_later());
    let wishes = wishes(&settings, later.rules);
    let judges = Judges { read: lines::judge_read, write: lines::judge_written_line };
    let words = Words(use_supply().here().cloned());
    let learner = props.learner.clone();
    let version = use_held(u32::default);
    let sitting = use_memo((), |()| RefCell::new(go_on(&learner, wishes, props.from, &words)));
    let act = {
        let (sitting, learner, version) = (sitting.clone(), learner.clone(), version.clone());
        use_callback((*version, words.clone()), move |(turn, action), (before, words)| {
            let mut sitting = sitting.borrow_mut();
            // What comes late, from something that stands no more on the screen, is no answer to what does.
            if turn != sitting.turn() {
                return;
            }
            let events = sitting.act(action, now(), words.0.as_deref(), &judges);
            learner.add_all(&events);
            keep(sitting.to_text().as_deref());
            version.set(*before + 1);
        })
    };
    let another = {
        let (sitting, version) = (sitting.clone(), version.clone());
        let (learner, words) = (learner.clone(), words.clone());
        Callback::from(move |_: MouseEvent| {
            sitting.replace(begin(&learner, wishes, &words));
            version.set(*version + 1);
        })
    };
    // A key that is held answers once.
    let onkeydown = Callback::from(|event: KeyboardEvent| {
        if event.repeat() && event.key() == "Enter" {
            event.prevent_default();
        }
    });
    let sitting = sitting.borrow();
    let over = *sitting.scene() == Scene::Over;
    let another_first = use_focus(u32::from(over));
    let trouble = html! { if let Some(trouble) = learner.trouble { { told(trouble) } } };
    if over {
        let came = sitting.session().summary();
        return html! { <>{ trouble }{ summary(&came, sitting.sight(), another, another_first) }</> };
    }
    let way = Way { turn: sitting.turn(), step: sitting.session().step(), act };
    let news = sitting.opened().map(|title| format!("A new unit is open: {title}. Its signs come now."));
    html! {
        <div class="session" {onkeydown}>
            <h1 class="sr">{ "Session" }</h1>
            { trouble }
            { bar(&sitting, &way) }
            <p class="session-news" role="status">{ news }</p>
            <div class="stage">{ scene(&sitting, &way, settings.moments, words.0.as_deref()) }</div>
            <div class="under">{ under(&sitting, &way) }</div>
        </div>
    }
}
