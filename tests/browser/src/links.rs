//! Links of exercises: the page stands at a sub-path of an origin of its own, in a profile that has never seen it.

use cellwright::exercise::{Exercise, envelope, in_link};

use crate::browser::{Failed, Outcome, Session, ensure};

fn exercise() -> Exercise {
    Exercise {
        title: "Notice 2".into(),
        text: "The 10:30 ferry leaves from Hallam Quay.".into(),
        dot_numbers_only: true,
        ..Exercise::default()
    }
}

pub async fn an_exercise_opens_at_a_sub_path(session: Session) -> Outcome {
    let set = exercise();
    let payload = set.to_payload()?;
    session.open(&format!("#/x/{payload}")).await?;
    session.find("heading", "Notice 2").await?;
    session
        .until(
            "the print to copy",
            &format!("return document.querySelector('main').textContent.includes({:?})", set.text),
        )
        .await?;
    let numbers = session.find("checkbox", "Dot numbers only").await?;
    ensure(numbers.is_selected().await?, || "the teacher's dot numbers only is not on".to_owned())?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

pub async fn fifty_damaged_links_each_say_so(session: Session) -> Outcome {
    let good = exercise().to_payload()?;
    let mut damaged: Vec<String> = Vec::new();
    damaged.extend((1..=15).map(|n| good[..n * (good.len() - 1) / 15].to_owned()));
    damaged.extend((0..20).map(|n| {
        let at = n * (good.len() - 1) / 19;
        let other = if good.as_bytes()[at] == b'Q' { "R" } else { "Q" };
        format!("{}{other}{}", &good[..at], &good[at + 1..])
    }));
    damaged.extend((1..=5).map(|n| format!("2-{}", "A".repeat(envelope::PAYLOAD + n))));
    damaged.extend(
        ["0", "1", "3", "9", "10", "99", "999999", "x", "02", "2.0"].map(|v| good.replacen('2', v, 1)),
    );
    ensure(damaged.len() == 50, || format!("there are {}", damaged.len()))?;
    // A place that keeps nothing of its own.
    session.open("#/nowhere").await?;
    session.script("localStorage.setItem('kept', 'as it was')").await?;
    let stored = "return JSON.stringify(Object.entries(localStorage).sort())";
    let before = session.script(stored).await?;
    for (number, payload) in damaged.iter().enumerate() {
        session.open(&format!("#/x/{payload}")).await?;
        let said = "const said = document.querySelector('main [role=alert]');
            return said ? said.textContent : ''";
        let words = session.script(said).await?;
        let words = words.as_str().unwrap_or_default();
        ensure(words.starts_with("This link") && words.ends_with('.'), || {
            format!("link {} ({}…) is answered by {words:?}", number + 1, &payload[..payload.len().min(40)])
        })?;
        let errors = session.console_errors().await?;
        ensure(errors.is_empty(), || format!("link {}: the console holds {errors:?}", number + 1))?;
    }
    let after = session.script(stored).await?;
    ensure(before == after, || format!("stored before: {before}, after: {after}"))?;
    // The page works as ever.
    session.find("link", "Write").await?.click().await?;
    session.find("textbox", "Braille").await.map(drop)
}

/// What a camera reads in the picture of the code, by a general-purpose decoder.
async fn scanned(session: &Session) -> Outcome<String> {
    // Whole in view: what is out of it would be cut off.
    session
        .script("document.querySelector('svg[aria-label=\"The link as a QR code\"]').scrollIntoView({block: 'center'})")
        .await?;
    let code = session
        .client
        .find(fantoccini::Locator::Css("svg[aria-label='The link as a QR code']"))
        .await?
        .screenshot()
        .await?;
    let mut reader = png::Decoder::new(std::io::Cursor::new(code)).read_info()?;
    let mut pixels = vec![0; reader.output_buffer_size().unwrap_or_default()];
    let frame = reader.next_frame(&mut pixels)?;
    let (width, height) = (frame.width as usize, frame.height as usize);
    let row = frame.line_size;
    let step = frame.color_type.samples();
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| pixels[y * row + x * step]);
    let found = image.detect_grids();
    ensure(found.len() == 1, || format!("{} codes are seen in {width} by {height} pixels", found.len()))?;
    Ok(found[0].decode()?.1)
}

/// The code of a link says the link, letter for letter, whatever the theme and however long it is.
pub async fn a_code_is_read_as_its_link(session: Session) -> Outcome {
    session.open("#/set").await?;
    session.find("textbox", "Title").await?.send_keys("Notice 2 – é").await?;
    let sentence = "The 10:30 ferry leaves from Hallam Quay; Kittiwake follows at noon, or not at all. ";
    for (theme, text) in [
        ("light", sentence.to_owned()),
        ("dark", sentence.chars().cycle().skip(7).step_by(11).take(500).collect()),
        ("contrast", sentence.chars().cycle().skip(3).step_by(29).take(900).collect()),
    ] {
        session.switch_theme(theme).await?;
        let field = session.find("textbox", "Text, one item a line").await?;
        field.clear().await?;
        field.send_keys(&text).await?;
        let link = session.find("textbox", "Link").await?.prop("value").await?.unwrap_or_default();
        let read = scanned(&session).await?;
        ensure(read == link, || format!("{theme}: the code says {read:?}, the link is {link:?}"))?;
        let (_, payload) = in_link(&read).ok_or_else(|| Failed(format!("no link: {read}")))?;
        let set = Exercise::from_payload(payload)?;
        ensure(set.text.trim() == text.trim(), || format!("{theme}: the exercise says {:?}", set.text))?;
    }
    Ok(())
}

/// Words without an end, that nothing compresses much.
fn words(seed: u32, count: usize) -> String {
    let mut state = seed;
    let mut next = || {
        // A linear congruential generator; its numbers from memory.
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 16) as usize
    };
    (0..count).map(|_| if next() % 6 == 0 { ' ' } else { char::from(b'a' + (next() % 26) as u8) }).collect()
}

/// The longest link that the page gives a code for, of an exercise and of a set, is read letter for letter; one a little longer has
/// none, and so has one that a narrow window would show with squares too small for a camera. 2,953 bytes are the most of a code
/// of version 40 at the lowest level (ISO/IEC 18004, table of capacities; from memory).
pub async fn the_longest_code_is_read_and_no_longer_one_shown(session: Session) -> Outcome {
    const MOST: usize = 2953;
    const CODE: &str = "document.querySelectorAll('svg[aria-label=\"The link as a QR code\"]').length";
    session.open("#/set").await?;
    let text = words(7, 6000);
    // What the page makes of so much of the text.
    let show = async |length: usize| -> Outcome<String> {
        let text = text[..length].trim();
        crate::desk::fill(&session, "main textarea", text).await?;
        for _ in 0..200 {
            let link = crate::desk::value_of(&session, "Link").await?;
            let set = in_link(&link).and_then(|(_, payload)| Exercise::from_payload(payload).ok());
            if set.is_some_and(|set| set.text == text) {
                return Ok(link);
            }
            tokio::time::sleep(std::time::Duration::from_millis(30)).await;
        }
        Err(Failed(format!("no link of {length} characters of text")))
    };
    let mut longest = 2500;
    let mut made = show(longest).await?;
    while made.len() > MOST {
        longest -= (made.len() - MOST).div_ceil(2);
        made = show(longest).await?;
    }
    loop {
        let more = show(longest + 1).await?;
        if more.len() > MOST {
            break;
        }
        (longest, made) = (longest + 1, more);
    }
    show(longest).await?;
    ensure(made.len() > MOST - 4, || format!("the longest has only {} characters", made.len()))?;
    session.until("the code", &format!("return {CODE} === 1")).await?;
    let read = scanned(&session).await?;
    ensure(read == made, || format!("the code says {read:?}, the link is {made:?}"))?;
    session.picture("longest-code", 1280).await?;
    // In a window that is just wide enough, and in one that is too narrow.
    let told = |session: &Session| {
        let script = "return [...document.querySelectorAll('.note')].map((one) => one.textContent).find((text) => text.startsWith('As a QR code')) ?? ''".to_owned();
        let session = session.client.clone();
        async move {
            Ok::<_, Failed>(
                session.execute(&script, Vec::new()).await?.as_str().unwrap_or_default().to_owned(),
            )
        }
    };
    session.screen(390).await?;
    session.until("no code", &format!("return {CODE} === 0")).await?;
    let says = told(&session).await?;
    let needs: u32 = says.split(' ').find_map(|word| word.parse().ok()).unwrap_or(0);
    ensure(needs == 4 * (177 + 8) + 48, || format!("it says {says:?}"))?;
    session.picture("longest-code", 390).await?;
    session.screen(needs).await?;
    session.until("the code again", &format!("return {CODE} === 1")).await?;
    let read = scanned(&session).await?;
    ensure(read == made, || "in a narrow window the code says something else".to_owned())?;
    session.screen(0).await?;
    // One more than a code holds.
    show(longest + 1).await?;
    session.until("no code", &format!("return {CODE} === 0 && document.querySelector('main').textContent.includes('too long for a QR code')")).await?;
    // The code of a set.
    crate::desk::fill(&session, "main textarea", &text[..900]).await?;
    crate::desk::press(&session, "Put this exercise on your shelf").await?;
    let add = "const add = [...document.querySelectorAll('button')].find((one) => /^Add .* to the set$/.test(one.textContent)); add?.click(); return !!add";
    session.until("the set", add).await?;
    crate::desk::fill(&session, "main textarea", "").await?;
    session
        .until(
            "the set's code alone",
            &format!("return {CODE} === 1 && !document.querySelector('input[aria-label=Link]')"),
        )
        .await?;
    let made = crate::desk::value_of(&session, "Link of the set").await?;
    let read = scanned(&session).await?;
    ensure(read == made, || format!("the set's code says {read:?}, its link is {made:?}"))
}
