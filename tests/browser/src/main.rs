//! The page in the real browser, driven as a person drives it: by role and name, with real keys.
//!
//! `cargo run -- [--firefox] [PART OF A NAME]` runs the tests whose name holds that part, each in a browser of its own with a
//! fresh profile. `--pictures [ROOM]` takes the rooms' pictures instead, `--bench [PART]`, `--size` and `--soak` measure. The page must be built (`cargo run -- build` in the project's folder). To add a test, write an
//! `async fn(Session) -> Outcome` in the file of its room and name it in [`all`].

#![forbid(unsafe_code)]

mod access;
mod alone;
mod bench;
mod browser;
mod causes;
mod desk;
mod desk_files;
mod desk_looks;
mod desk_paper;
mod desk_terminal;
mod drill;
mod focus;
mod hard;
mod keyboards;
mod links;
mod looks;
mod numbers;
mod offline;
mod one_file;
mod practice;
mod reading;
mod rooms;
mod senses;
mod sheets;
mod site;
mod soak;
mod states;
mod trace;
mod volume;
mod work;
mod write;

use std::future::Future;
use std::pin::Pin;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use futures_util::StreamExt as _;
use futures_util::stream::FuturesUnordered;

use browser::{Browser, Driver, Failed, Outcome, Session};
use site::Site;

type Test = Box<dyn Fn(Session) -> Pin<Box<dyn Future<Output = Outcome> + Send>>>;

/// Longer than this no test may take, on a busy machine either.
const LIMIT: Duration = Duration::from_secs(600);
/// What needs means that only Chromium's driver has: an emulated screen, the browser's own protocol.
const CHROMIUM_ONLY: [&str; 29] = [
    "looks::the_first_frame_wears_the_theme",
    "alone::a_sheet_is_proofread",
    "focus::the_focus_is_never_hidden",
    "focus::what_can_be_hit_is_large_enough",
    "hard::where_no_font_is_taken_cells_are_shapes",
    "keyboards::an_input_method_writes_once_in_every_surface",
    "offline::a_version_found_early_is_offered",
    "desk_paper::each_sheet_is_printed_alone",
    "desk_terminal::the_check_says_what_the_terminal_says",
    "desk_terminal::set_anew_is_laid_out_as_at_the_terminal",
    "senses::the_tree_tells_of_the_writing",
    "causes::a_cause_opens_the_drill_that_practises_it",
    "volume::two_hundred_pages_open_scroll_and_take_keys",
    "senses::colours_and_motion_that_were_asked_for",
    "practice::the_first_right_answer_takes_three_actions",
    "practice::a_session_by_keyboard_alone",
    "practice::every_drill_opens",
    "practice::a_killed_tab_loses_at_most_one_answer",
    "practice::the_sheet_in_every_look",
    "practice::sheets_and_cards_are_printed",
    "desk::a_notice_of_two_pages_is_written_marked_corrected_checked_and_saved",
    "looks::no_room_scrolls_sideways",
    "alone::a_drill",
    "alone::a_transcription_is_marked_and_mended",
    "alone::an_exercise_is_set_and_opened",
    "keyboards::braille_that_arrives_as_characters_is_taken",
    "keyboards::fingers_on_the_screen_make_a_chord",
    "keyboards::two_thumbs_slide_over_the_keys",
    "keyboards::one_key_and_one_hand_on_the_screen",
];
/// So many browsers run beside each other.
const AT_ONCE: usize = 2;

macro_rules! tests {
    ($($room:ident::$test:ident),* $(,)?) => {
        vec![$((
            concat!(stringify!($room), "::", stringify!($test)),
            Box::new(|session| Box::pin($room::$test(session)) as Pin<Box<dyn Future<Output = Outcome> + Send>>) as Test,
        )),*]
    };
}

/// Every test there is.
fn all() -> Vec<(&'static str, Test)> {
    tests![
        write::keys_write_what_reads_as_the_sentence,
        write::nothing_is_written_when_the_focus_is_lost,
        write::tab_leaves_the_surface,
        write::dot_numbers_only_leaves_no_glyph,
        write::what_is_copied_can_be_pasted_in_every_notation,
        write::undo_and_redo,
        write::undo_goes_on_when_the_whole_page_takes_over,
        write::a_passage_goes_over_a_line_end,
        write::a_prefix_waits_for_its_root,
        write::the_prompt_is_marked,
        write::findings_tell_why,
        write::findings_at_one_cell_stand_side_by_side,
        write::the_reading_is_hidden_until_asked_for,
        write::the_caret_goes_with_the_cells,
        write::the_surface_is_as_high_as_its_lines,
        write::keys_are_lit_while_they_are_held,
        keyboards::every_key_can_be_moved,
        keyboards::keys_are_given_by_the_keyboard_alone,
        keyboards::hands_are_swapped,
        keyboards::one_key_at_a_time_and_one_hand,
        keyboards::braille_that_arrives_as_characters_is_taken,
        keyboards::an_input_method_writes_once_in_every_surface,
        keyboards::dot_numbers_in_print_write_cells,
        keyboards::a_braille_displays_routing_keys_move_the_caret,
        keyboards::fingers_on_the_screen_make_a_chord,
        keyboards::two_thumbs_slide_over_the_keys,
        keyboards::one_key_and_one_hand_on_the_screen,
        keyboards::the_keyboard_check_shows_what_arrives,
        keyboards::chords_with_holes_are_spoken_of_once,
        senses::words_are_announced_when_asked_for,
        senses::the_cell_moved_to_says_its_dots,
        senses::a_line_is_one_line_of_text,
        senses::a_sheet_is_text_that_a_display_follows,
        senses::everything_is_reached_by_tab_with_a_visible_focus,
        senses::the_chart_is_one_stop,
        senses::pictures_have_words,
        senses::the_tree_tells_of_the_writing,
        senses::colours_and_motion_that_were_asked_for,
        numbers::no_room_shows_braille,
        numbers::no_drill_shows_braille,
        numbers::glyphs_from_outside_are_put_into_words,
        work::a_reload_keeps_the_work_of_each_text,
        work::leaving_at_once_loses_nothing,
        work::a_page_out_of_sight_has_kept_its_work,
        work::a_field_left_with_its_room_keeps_its_text,
        work::an_exercise_opens_the_room_of_its_task,
        desk::a_notice_of_two_pages_is_written_marked_corrected_checked_and_saved,
        desk::reading_goes_to_the_learner_and_back,
        desk::signs_by_dot_numbers_go_to_the_learner_and_back,
        desk::writing_goes_to_the_learner_and_back,
        desk::a_slate_goes_to_the_learner_and_back,
        desk::a_trial_transcription_goes_to_the_learner_and_back,
        desk::proofreading_goes_to_the_learner_and_back,
        desk::the_reading_desk_keeps_its_notes,
        desk_files::files_are_chosen_dropped_and_refused,
        desk_files::own_slips_are_kept_and_toured,
        desk_paper::each_sheet_is_printed_alone,
        desk_terminal::the_check_says_what_the_terminal_says,
        desk_terminal::set_anew_is_laid_out_as_at_the_terminal,
        volume::two_hundred_pages_open_scroll_and_take_keys,
        volume::long_work_is_spoken_of,
        desk_looks::with_dot_numbers_only_the_desk_shows_no_braille,
        desk_looks::the_teacher_sees_the_exercise_and_nothing_of_it_is_kept,
        desk_looks::a_reload_keeps_what_was_marked_and_handed_in,
        desk_looks::the_copy_follows_over_skipped_words,
        links::an_exercise_opens_at_a_sub_path,
        links::fifty_damaged_links_each_say_so,
        links::a_code_is_read_as_its_link,
        practice::the_first_right_answer_takes_three_actions,
        practice::a_session_by_keyboard_alone,
        practice::every_drill_opens,
        practice::a_killed_tab_loses_at_most_one_answer,
        practice::the_sheet_in_every_look,
        practice::two_tabs_keep_each_others_answers,
        practice::a_damaged_record_is_set_aside_and_said,
        practice::full_storage_is_said_and_practice_goes_on,
        practice::a_record_is_merged_or_replaced_after_a_question,
        practice::sheets_and_cards_are_printed,
        causes::a_cause_opens_the_drill_that_practises_it,
        causes::a_rule_broken_opens_words_that_turn_on_it,
        reading::actual_size_is_the_size_of_paper,
        reading::line_by_line,
        rooms::a_sign_is_found_marked_off_and_noted,
        rooms::a_page_is_read_and_a_text_of_ones_own,
        looks::rooms_have_names_and_one_heading,
        looks::the_other_half_takes_over_with_the_work_kept,
        looks::texts_that_do_not_come_are_asked_for_again,
        looks::a_newcomer_writes_a_cell_at_once,
        looks::the_first_frame_wears_the_theme,
        looks::no_room_scrolls_sideways,
        alone::a_drill,
        alone::a_transcription_is_marked_and_mended,
        alone::a_sheet_is_proofread,
        alone::an_exercise_is_set_and_opened,
        offline::a_visited_page_works_with_the_server_gone,
        offline::a_new_version_is_offered_and_waits,
        offline::with_two_tabs_a_new_version_waits,
        offline::a_host_that_goes_back_takes_nothing_away,
        offline::a_version_found_early_is_offered,
        offline::a_failed_update_leaves_the_old_version_whole,
        one_file::a_drill_from_a_file_is_kept,
        one_file::a_transcription_from_a_file_is_marked_and_kept,
        one_file::where_storage_is_withheld_the_record_is_a_file,
        one_file::a_reading_text_from_a_file,
        one_file::links_and_files_are_taken_and_made,
        focus::what_can_be_hit_is_large_enough,
        focus::the_focus_is_never_hidden,
        focus::the_focus_is_never_lost,
        access::a_planted_fault_is_reported,
        access::the_rooms_as_they_are_entered,
        access::the_rooms_at_work,
        access::the_rooms_as_they_are_pictured,
        access::every_drill,
        access::the_one_file,
        access::the_first_half_alone,
        access::links_good_and_damaged,
        access::the_plain_pages,
        hard::a_host_that_knows_no_wasm_serves_the_page,
        hard::a_module_that_stops_leaves_the_record,
        hard::a_panic_shows_the_plain_page,
        hard::full_storage_is_told_and_nothing_is_lost,
        hard::refused_storage_is_told_and_nothing_is_lost,
        hard::two_tabs_keep_both_their_answers,
        hard::a_damaged_record_is_set_aside,
        hard::links_made_to_harm,
        hard::without_its_style_the_page_opens,
        hard::without_a_font_cells_are_shapes,
        hard::where_no_font_is_taken_cells_are_shapes,
        hard::the_policy_holds,
        hard::the_policy_holds_in_the_one_file,
    ]
}

#[tokio::main]
async fn main() -> ExitCode {
    let (mut browser, mut command, mut filter) = (Browser::Chromium, None, String::new());
    for arg in std::env::args().skip(1) {
        match arg.as_str() {
            "--firefox" => browser = Browser::Firefox,
            "--bench" | "--size" | "--soak" | "--pictures" => command = Some(arg),
            option if option.starts_with("--") => {
                eprintln!("browser tests: there is no option {option}");
                return ExitCode::from(2);
            }
            _ => filter = arg,
        }
    }
    if !site::project().join("www/pkg/cellwright_bg.wasm").exists() {
        eprintln!(
            "browser tests: the page is not built: run `cargo run -- build` in the project's folder first"
        );
        return ExitCode::FAILURE;
    }
    if let Some(command) = command {
        let done = match command.as_str() {
            "--bench" => bench::run(&filter).await,
            "--size" => bench::size_held(),
            "--soak" => soak::run().await,
            _ => looks::take_pictures(&filter).await,
        };
        return match done {
            Ok(()) => ExitCode::SUCCESS,
            Err(Failed(why)) => {
                eprintln!("browser tests: {why}");
                ExitCode::FAILURE
            }
        };
    }
    let driver = match Driver::start(browser).await {
        Ok(driver) => driver,
        Err(Failed(why)) => {
            eprintln!("browser tests: {why}");
            return ExitCode::FAILURE;
        }
    };
    let site = match Site::of_project() {
        Ok(site) => site,
        Err(Failed(why)) => {
            eprintln!("browser tests: {why}");
            return ExitCode::FAILURE;
        }
    };
    let (mut passed, mut failed) = (0, 0);
    // Two browsers at a time: a test waits for its browser more than it works.
    let (here, elsewhere): (Vec<_>, Vec<_>) = all()
        .into_iter()
        .filter(|(name, _)| name.contains(&filter))
        .partition(|(name, _)| browser == Browser::Chromium || !CHROMIUM_ONLY.contains(name));
    for (name, _) in elsewhere {
        println!("not in Firefox, whose driver has no means for it: {name}");
    }
    let mut tests = here.into_iter();
    let mut running = FuturesUnordered::new();
    loop {
        while running.len() < AT_ONCE
            && let Some((name, test)) = tests.next()
        {
            running.push(timed(&driver, &site.address, name, test));
        }
        let Some((name, outcome, seconds)) = running.next().await else { break };
        match outcome {
            Ok(()) => {
                passed += 1;
                println!("ok      {name} ({seconds:.1} s)");
            }
            Err(Failed(why)) => {
                failed += 1;
                println!("FAILED  {name}: {why}");
            }
        }
    }
    println!("in the browser: {passed} passed, {failed} failed");
    if failed == 0 && passed > 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

async fn timed(driver: &Driver, site: &str, name: &'static str, test: Test) -> (&'static str, Outcome, f64) {
    let begun = Instant::now();
    let outcome = match tokio::time::timeout(LIMIT, run(driver, site, &test)).await {
        Ok(outcome) => outcome,
        Err(_) => Err(Failed(format!("took longer than {} s", LIMIT.as_secs()))),
    };
    (name, outcome, begun.elapsed().as_secs_f64())
}

async fn run(driver: &Driver, site: &str, test: &Test) -> Outcome {
    let session = driver.session(site).await?;
    let (client, _held) = (session.client.clone(), session.driver_held());
    let outcome = test(session).await;
    // A browser that will not close has been ended by the driver; the test's own outcome counts.
    let _ = client.close().await;
    outcome
}
