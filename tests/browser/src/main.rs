//! The page in the real browser, driven as a person drives it: by role and name, with real keys.
//!
//! `cargo run -- [--firefox] [PART OF A NAME]` runs the tests whose name holds that part, each in a browser of its own with a
//! fresh profile. `--pictures [ROOM]` takes the rooms' pictures instead, `--bench [PART]`, `--size`, `--soak`, `--crashes` and `--much` measure. The page must be built (`cargo run -- build` in the project's folder). To add a test, write an
//! `async fn(Session) -> Outcome` in the file of its room and name it in [`all`].

#![forbid(unsafe_code)]

mod access;
mod alone;
mod around;
mod bench;
mod browser;
mod causes;
mod class;
mod conversation;
mod course;
mod damaged;
mod desk;
mod desk_files;
mod desk_looks;
mod desk_paper;
mod desk_rules;
mod desk_terminal;
mod drill;
mod focus;
mod hard;
mod heard;
mod home;
mod keyboards;
mod links;
mod looks;
mod much;
mod numbers;
mod offline;
mod one_file;
mod practice;
mod reading;
mod rooms;
mod senses;
mod session;
mod set_kinds;
mod set_work;
mod sheets;
mod site;
mod soak;
mod states;
mod still;
mod tabs;
mod trace;
mod trial_desk;
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
const CHROMIUM_ONLY: &[&str] = &[
    "tabs::a_crash_while_typing_takes_less_than_a_second",
    "around::what_is_dropped_leaves_the_page_where_it_is",
    "set_kinds::reading_with_breaks",
    "set_kinds::dot_numbers_with_breaks",
    "set_kinds::signs_written_with_breaks",
    "set_kinds::writing_with_breaks",
    "set_kinds::a_slate_with_breaks",
    "set_kinds::a_trial_with_breaks",
    "set_kinds::proofreading_with_breaks",
    "set_work::a_round_goes_on_where_it_was",
    "alone::a_class_sheet_is_filled_and_read",
    "alone::a_set_is_made_and_opened",
    "looks::the_first_frame_wears_the_theme",
    "alone::a_sheet_is_proofread",
    "focus::the_focus_is_never_hidden",
    "focus::what_can_be_hit_is_large_enough",
    "hard::where_no_font_is_taken_cells_are_shapes",
    "keyboards::an_input_method_writes_once_in_every_surface",
    "offline::a_version_found_early_is_offered",
    "desk_paper::each_sheet_is_printed_alone",
    "desk_rules::findings_stand_beside_their_line",
    "trial_desk::from_print_to_parcel",
    "desk_terminal::the_check_says_what_the_terminal_says",
    "desk_terminal::set_anew_is_laid_out_as_at_the_terminal",
    "senses::the_tree_tells_of_the_writing",
    "causes::a_cause_opens_the_drill_that_practises_it",
    "volume::two_hundred_pages_open_scroll_and_take_keys",
    "senses::colours_and_motion_that_were_asked_for",
    "practice::drills_by_keyboard_alone",
    "session::the_cell_is_the_largest_thing",
    "session::the_six_keys_are_tried_in_the_first_session",
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
    "keyboards::the_keys_stay_under_the_thumbs",
    "keyboards::the_keys_stay_under_the_thumbs_on_its_side",
    "keyboards::thumbs_in_transcribe",
    "looks::a_set_text_wraps",
    "looks::cells_to_proofread_are_large_enough",
    "conversation::a_drill",
    "conversation::a_transcription_is_marked_and_corrected",
    "conversation::a_round_with_its_result",
    "keyboards::thumbs_in_transcribe_on_its_side",
    "keyboards::thumbs_in_a_drill",
    "keyboards::thumbs_in_a_drill_on_its_side",
    "keyboards::thumbs_in_a_round",
    "keyboards::thumbs_in_a_round_on_its_side",
    "keyboards::thumbs_answer_sign_after_sign",
    "keyboards::a_cell_trembles_where_it_is_wished",
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
        keyboards::the_keys_stay_under_the_thumbs,
        keyboards::the_keys_stay_under_the_thumbs_on_its_side,
        keyboards::thumbs_in_transcribe,
        keyboards::thumbs_in_transcribe_on_its_side,
        keyboards::thumbs_in_a_drill,
        keyboards::thumbs_in_a_drill_on_its_side,
        keyboards::thumbs_in_a_round,
        keyboards::thumbs_in_a_round_on_its_side,
        keyboards::thumbs_answer_sign_after_sign,
        keyboards::a_cell_trembles_where_it_is_wished,
        keyboards::a_poor_keyboard_is_noticed_by_what_was_meant,
        keyboards::the_check_remembers,
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
        work::what_was_replaced_comes_back,
        work::marking_is_four_tabs_from_the_copy,
        work::enter_on_the_empty_surface_writes_nothing,
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
        desk_rules::rules_are_those_of_the_terminal_and_stay_switched,
        desk_rules::findings_stand_beside_their_line,
        desk_rules::what_cannot_be_set_is_told_at_its_place,
        desk_rules::several_volumes_are_marked_and_checked,
        trial_desk::from_print_to_parcel,
        trial_desk::own_slips_and_layout_are_planted,
        still::two_pages_hold_still,
        still::twenty_pages_hold_still,
        still::two_hundred_pages_hold_still,
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
        class::slips_of_a_class_become_a_table,
        set_kinds::reading_with_breaks,
        set_kinds::dot_numbers_with_breaks,
        set_kinds::signs_written_with_breaks,
        set_kinds::writing_with_breaks,
        set_kinds::a_slate_with_breaks,
        set_kinds::a_trial_with_breaks,
        set_kinds::proofreading_with_breaks,
        set_work::a_round_goes_on_where_it_was,
        set_work::marked_writing_stays_with_its_slip,
        set_work::ten_exercises_over_three_visits,
        set_work::two_hundred_slips_in_under_two_seconds,
        home::everything_goes_home_and_nothing_is_doubled,
        home::work_goes_to_and_fro,
        home::a_session_ends_with_the_file,
        home::two_people_share_a_browser,
        home::nothing_is_left_behind,
        home::one_of_several_leaves,
        links::an_exercise_opens_at_a_sub_path,
        links::fifty_damaged_links_each_say_so,
        links::a_code_is_read_as_its_link,
        links::the_longest_code_is_read_and_no_longer_one_shown,
        practice::drills_by_keyboard_alone,
        practice::every_drill_opens,
        practice::a_killed_tab_loses_at_most_one_answer,
        practice::the_sheet_in_every_look,
        practice::two_tabs_keep_each_others_answers,
        practice::a_damaged_record_is_set_aside_and_said,
        practice::full_storage_is_said_and_practice_goes_on,
        practice::a_record_is_merged_or_replaced_after_a_question,
        practice::sheets_and_cards_are_printed,
        session::a_newcomer_has_answered_a_sign_in_twenty_seconds,
        session::the_six_keys_are_tried_in_the_first_session,
        session::unit_1_is_left_within_one_session,
        session::unit_11_shows_and_asks_its_eight_signs_first,
        session::what_is_due_comes_to_nought,
        session::a_reload_comes_back_to_the_same_item,
        session::a_wrong_reading_is_told_in_place,
        session::nothing_typed_is_no_answer_and_a_held_key_answers_once,
        session::the_cell_is_the_largest_thing,
        session::leaving_tells_what_came_of_it,
        causes::a_cause_opens_the_drill_that_practises_it,
        causes::a_rule_broken_opens_words_that_turn_on_it,
        reading::actual_size_is_the_size_of_paper,
        reading::line_by_line,
        reading::ten_older_signs_are_read_and_told,
        reading::the_sheet_has_keys_of_its_own,
        reading::the_first_wrong_word_can_be_tried_again,
        reading::a_doubtful_word_from_paper_is_read,
        reading::a_long_book_opens_like_a_letter,
        reading::covers_say_what_a_text_needs_and_how_far_it_was_read,
        course::a_unit_opens_to_its_lesson,
        course::find_my_place_lands_where_one_is,
        course::the_chart_finds_the_sign_first,
        course::a_goal_is_chosen_and_forecast,
        rooms::a_sign_is_found_ticked_and_noted,
        rooms::a_page_is_read_and_a_text_of_ones_own,
        looks::rooms_have_names_and_one_heading,
        looks::the_other_half_takes_over_with_the_work_kept,
        looks::texts_that_do_not_come_are_asked_for_again,
        looks::the_first_frame_wears_the_theme,
        looks::no_room_scrolls_sideways,
        looks::a_set_text_wraps,
        looks::cells_to_proofread_are_large_enough,
        conversation::a_drill,
        conversation::a_transcription_is_marked_and_corrected,
        conversation::a_round_with_its_result,
        conversation::a_drill_in_one_box,
        alone::a_drill,
        alone::a_transcription_is_marked_and_mended,
        alone::a_sheet_is_proofread,
        alone::an_exercise_is_set_and_opened,
        alone::a_class_sheet_is_filled_and_read,
        alone::a_set_is_made_and_opened,
        offline::a_visited_page_works_with_the_server_gone,
        offline::a_new_version_is_offered_and_waits,
        offline::with_two_tabs_a_new_version_waits,
        offline::a_host_that_goes_back_takes_nothing_away,
        offline::a_version_found_early_is_offered,
        offline::a_password_page_leaves_nothing_broken,
        offline::a_password_page_in_place_of_the_second_download,
        offline::a_file_thrown_out_is_put_back,
        offline::a_failed_update_leaves_the_old_version_whole,
        one_file::a_drill_from_a_file_is_kept,
        one_file::a_transcription_from_a_file_is_marked_and_kept,
        one_file::where_storage_is_withheld_the_record_is_a_file,
        one_file::a_reading_text_from_a_file,
        one_file::links_and_files_are_taken_and_made,
        focus::what_can_be_hit_is_large_enough,
        focus::the_focus_is_never_hidden,
        focus::the_focus_is_never_lost_1,
        focus::the_focus_is_never_lost_2,
        focus::the_focus_is_never_lost_3,
        focus::the_focus_is_never_lost_4,
        access::a_planted_fault_is_reported,
        access::the_rooms_as_they_are_entered,
        access::the_rooms_at_work,
        access::the_rooms_as_they_are_pictured,
        access::every_drill,
        access::the_one_file,
        access::the_first_half_alone,
        access::links_good_and_damaged,
        access::the_plain_pages,
        around::a_page_that_frames_it_gets_nothing_of_it,
        around::what_is_dropped_leaves_the_page_where_it_is,
        tabs::what_another_tab_opens_goes_on_there,
        tabs::print_and_set_work_are_in_one_tab,
        tabs::settings_hold_in_every_tab,
        tabs::the_shelf_holds_the_texts_of_every_tab,
        tabs::work_changed_unseen_is_set_aside,
        tabs::unreadable_work_stays_while_there_is_no_room,
        tabs::a_damaged_line_keeps_its_place,
        tabs::a_long_record_is_made_short,
        tabs::a_crash_while_typing_takes_less_than_a_second,
        tabs::what_was_kept_stays_when_there_is_no_room,
        tabs::full_storage_is_said_in_every_room,
        hard::a_host_that_knows_no_wasm_serves_the_page,
        hard::a_module_that_stops_leaves_the_record,
        hard::a_panic_shows_the_plain_page,
        hard::full_storage_is_told_and_nothing_is_lost,
        hard::refused_storage_is_told_and_nothing_is_lost,
        hard::two_tabs_keep_both_their_answers,
        hard::a_damaged_record_is_set_aside,
        damaged::each_key_is_damaged_in_turn,
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
            "--bench" | "--size" | "--soak" | "--crashes" | "--much" | "--pictures" => command = Some(arg),
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
            "--crashes" => damaged::crashes(&filter).await,
            "--much" => much::run(&filter).await,
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
    println!("counted: {passed} tests\n{failed} failed");
    if failed == 0 && passed > 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

async fn timed(driver: &Driver, site: &str, name: &'static str, test: Test) -> (&'static str, Outcome, f64) {
    let begun = Instant::now();
    let outcome = match tokio::time::timeout(LIMIT, run(driver, site, name, &test)).await {
        Ok(outcome) => outcome,
        Err(_) => Err(Failed(format!("took longer than {} s", LIMIT.as_secs()))),
    };
    (name, outcome, begun.elapsed().as_secs_f64())
}

async fn run(driver: &Driver, site: &str, name: &str, test: &Test) -> Outcome {
    let session = driver.session(site).await?;
    let (client, _held) = (session.client.clone(), session.driver_held());
    let outcome = test(session).await;
    // What stood on the screen says more than the words.
    if outcome.is_err()
        && let Ok(picture) = client.screenshot().await
    {
        let folder = site::project().join("target/failed");
        let kept = std::fs::create_dir_all(&folder)
            .and_then(|()| std::fs::write(folder.join(format!("{}.png", name.replace("::", "-"))), picture));
        if let Err(error) = kept {
            eprintln!("no picture of {name}: {error}");
        }
    }
    // A browser that will not close has been ended by the driver; the test's own outcome counts.
    let _ = client.close().await;
    outcome
}
