//! The desk: the copyholder, the writing, the marks, the check and the files.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::{Exercise, Slip};
use crate::manuscript::Sheet;
use crate::manuscript::check::Scope;
use crate::page::browser::open_file::DropArea;
use crate::page::browser::undo_key::use_undo_key;
use crate::page::learner::journal::use_learner;
use crate::page::learner::rehearsal::use_name;
use crate::page::learner::settings::use_settings;
use crate::page::marked::findings::line_marks;
use crate::page::marked::hand_in::HandIn;
use crate::page::marked::progress::use_progress_of;
use crate::page::marked::trial_result::TrialResult;
use crate::page::rooms::transcribe::check_panel::CheckPanel;
use crate::page::rooms::transcribe::copyholder::Copyholder;
use crate::page::rooms::transcribe::course_rules::use_course_rules;
use crate::page::rooms::transcribe::desk_checks::{Checking, use_checks, use_notes};
use crate::page::rooms::transcribe::desk_controls::DeskControls;
use crate::page::rooms::transcribe::desk_copy::use_copy;
use crate::page::rooms::transcribe::desk_files::{DeskFiles, dropped};
use crate::page::rooms::transcribe::desk_marking::{Marking, use_attempts, use_old_tries};
use crate::page::rooms::transcribe::desk_state::{name_of, use_desk, use_keeping, use_kept_desk};
use crate::page::rooms::transcribe::desk_tour::use_tour;
use crate::page::rooms::transcribe::marked_work::MarkedWork;
use crate::page::rooms::transcribe::own_slips::{OwnSlips, Tour};
use crate::page::rooms::transcribe::trial_manuscript::TrialDesk;
use crate::page::states::desk::{Action, Goal, Laid};
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::live::Live;
use crate::page::surface::reads_as::ReadsAs;
use crate::page::surface::work::KeptWork;
use crate::page::surface::writing_settings::WritingSettings;
use crate::page::surface::written::{Given, Go, Written};
use crate::page::widgets::bring_back::BringBack;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::why::Why;
use crate::writing::Place;

/// What lies on the desk.
#[derive(Properties, PartialEq, Default)]
pub struct DeskProps {
    /// A set exercise; the learner's own work stays as it is.
    #[prop_or_default]
    pub set: Option<Rc<Exercise>>,
}

/// The desk.
#[component]
pub fn Desk(props: &DeskProps) -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let DeskProps { set } = props;
    let name = use_name(|| name_of(set.as_deref()));
    let progress = use_progress_of(set);
    let handed_in = progress.finished;
    let (rules, on_rule) = use_course_rules();
    let contracted = set.as_ref().map_or(settings.contracted, |set| set.contracted);
    let sheet_of = |(cells, lines): (usize, usize)| match set {
        Some(set) => set.sheet(),
        None => {
            let (edition, profile) = (settings.edition(), rules.profile());
            Sheet { contracted, edition, cells, lines, profile, ..Sheet::default() }.bounded()
        }
    };
    let kept = use_kept_desk(&name, set);
    let (desk, act) = use_desk(&name, &kept, set, handed_in, sheet_of);
    let sheet = sheet_of(desk.size);
    use_old_tries(&kept, &desk, sheet, &progress);
    // Followed key by key by those parts that show it; the desk itself is drawn again only when there is reason to.
    let live = use_memo((), |()| Live::default());
    use_keeping(&name, &desk, &live, &act);
    let on_change = {
        let (live, act) = (live.clone(), act.clone());
        use_callback((), move |new: Written, ()| {
            if live.tell(&new) {
                act.emit(Action::Wrote { empty: new.is_empty() });
            }
        })
    };
    let copy = use_copy(&desk, &live, sheet, contracted);
    let print = AttrValue::from(desk.print.clone());
    let scope = if desk.volume { Scope::Volume } else { Scope::Piece };
    let asked =
        Checking { print: print.clone(), sheet, scope, print_copy: desk.print_copy, rules: rules.clone() };
    let checks = use_checks(&live, asked);
    let notes = use_notes(&desk.marked, &checks.checked, sheet, &settings);
    let marks = use_memo(desk.marked.clone(), |marked| {
        marked.as_ref().map(|lines| Rc::new(line_marks(&lines.marked))).unwrap_or_default()
    });
    let tour = use_tour(&live, &desk.print, sheet, &learner);
    let attempts = use_attempts(set, &progress);
    let bring_print_back = desk.print_before.as_ref().map(|_| act.reform(|()| Action::BringPrintBack));
    use_undo_key(bring_print_back.clone());

    let marking =
        Marking { live: live.clone(), sheet, set: set.clone(), progress: progress.clone(), act: act.clone() };
    // What was checked no longer lies there.
    let laid = {
        let (checked, act) = (checks.checked.clone(), act.clone());
        Callback::from(move |action| {
            checked.set(None);
            act.emit(action);
        })
    };
    let put = laid.reform(Action::Lay);
    let lay_print = laid.reform(|text: AttrValue| Action::LayPrint(text.as_str().into()));
    let refuse = act.reform(Action::Refuse);
    // An exercise brings its own print: nothing is taken in its place.
    let open = match set {
        None => dropped(sheet, put.clone(), lay_print.clone(), refuse.clone()),
        Some(_) => Callback::noop(),
    };
    let check_volume = {
        let (act, check) = (act.clone(), checks.volume.clone());
        Callback::from(move |()| {
            act.emit(Action::Volume(true));
            check.emit(());
        })
    };
    let set_print_copy = {
        let (act, says) = (act.clone(), checks.says_of_print_copy.clone());
        Callback::from(move |on| {
            act.emit(Action::PrintCopy(on));
            says.emit(on);
        })
    };
    let go = |focus: bool| {
        act.reform(move |(page, line, cell): (usize, usize, usize)| {
            Action::Go(Place { line: page * sheet.lines + line, cell }, focus)
        })
    };
    let may_answer = set.as_ref().is_some_and(|set| set.answers);
    let answer = if desk.answer && may_answer { copy.answer(contracted, settings.edition()) } else { None };
    let reading = desk.reading && set.as_ref().is_none_or(|set| set.help);
    let trial = set.as_ref().and_then(|set| set.trial);
    // While a trial goes on, nothing of its marks is shown.
    let marked = desk.marked.clone().filter(|_| trial.is_none() || handed_in);
    let (marks, notes) =
        if trial.is_none() || handed_in { ((*marks).clone(), notes) } else { Default::default() };
    let slip = set.as_ref().filter(|_| trial.is_none() || handed_in);
    let slip = slip.filter(|_| !progress.tries.is_empty() && !progress.in_set());

    html! {
        <DropArea class="desk" {open} refuse={refuse.clone()}>
            <Copyholder copy={copy.lines.clone()} at={copy.at} live={live.clone()} {sheet} bell={desk.bell} on_turn={act.reform(Action::Turn)} />
            <BrailleInput given={given(&desk.laid)} {on_change} contracted={Some(contracted)} read_only={handed_in} go={go_of(desk.goal)}
                sheet=true copy={copy.over(&settings)} asks="copy-line" meant={copy.meant.clone()}
                on_brought_back={act.reform(|()| Action::BroughtBack)} {marks} reads={reading} {notes} />
            <DeskControls set={set.clone()} tries={progress.tries.len()} left={progress.left()} {handed_in} empty={desk.empty}
                bell={desk.bell} reading={desk.reading} mark={marking.mark(&desk, &learner)} anew={marking.anew(&laid)}
                leave={marking.leave(&desk)} check={checks.own.clone()} tour={tour.begin} act={act.clone()} />
            if let Some(cells) = answer { <p class="answer"><CellsLine {cells} /></p> }
            <BringBack what="The copy before is set aside. " back={bring_print_back} />
            if let Some(say) = &desk.refused { <p class="alert" role="alert">{ say }</p> }
            <KeptWork live={live.clone()} name={name.clone()} version={desk.laid.version} />
            if let Some((stops, habits)) = tour.stops { <Tour {stops} {habits} go={go(false)} end={tour.end} /> }
            if let Some(trial) = trial { if !attempts.is_empty() { <TrialResult {trial} tries={(*attempts).clone()} finished={handed_in} /> } }
            <MarkedWork marked={marked.clone()} stale={desk.stale && !handed_in} page={sheet.lines} open={desk.open} act={act.clone()} />
            if let Some(line) = copy.line().filter(|_| marked.is_some() || may_answer) {
                <details>
                    <summary>{ "Every sign of this line of the copy, and why" }</summary>
                    <Why print={line.print()} {contracted} />
                </details>
            }
            if let Some(set) = slip { <HandIn slip={Slip::of(set, &progress.tries, None)} name={progress.name().to_owned()} /> }
            if let Some(checked) = checks.checked.as_ref() {
                <CheckPanel items={checked.items.clone()} titles={copy.titles.clone()} print_copy={desk.print_copy} {set_print_copy}
                    {rules} {on_rule} go={go(true).reform(|(page, line)| (page, line, 0))} />
            }
            if reading { <ReadsAs live={live.clone()} follows=true /> }
            if set.is_none() {
                <TrialDesk live={live.clone()} {sheet} print={print.clone()} checked={(*checks.checked).clone()} check={check_volume} />
                <DeskFiles live={live.clone()} {sheet} {print} told={copy.told.clone()}
                    set_print={laid.reform(|text: AttrValue| Action::TypePrint(text.as_str().into()))} {lay_print} {put} {refuse}
                    check_file={checks.file.clone()} size={desk.size} set_size={act.reform(Action::Size)} written_for={desk.written_for}
                    volume={desk.volume} set_volume={act.reform(Action::Volume)} />
                <OwnSlips {learner} />
            }
            <WritingSettings />
        </DropArea>
    }
}

/// What was laid on the desk, as the surface takes it.
fn given(laid: &Laid) -> Given {
    Given { version: laid.version, lines: laid.lines.clone(), over: laid.over }
}

/// Where the caret is sent to, as the surface takes it.
fn go_of(goal: Goal) -> Go {
    Go { version: goal.version, place: goal.place, focus: goal.focus }
}
