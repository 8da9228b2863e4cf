//! What a link's payload looks like: the version in decimal, a hyphen, then base64url (RFC 4648 section 5, unpadded) of a check
//! sum (CRC-32; four bytes), the length of the body (three bytes), and the body: JSON without what has its default,
//! compressed (RFC 1951) as the continuation of a dictionary, `dictionary-2.txt`. Numbers have their low byte first; the
//! check sum is over kind, version, length and body.
//!
//! Version 1, which is still read, had no dictionary, a length of two bytes, and no version in its check sum.
//!
//! Payloads come from anywhere. Nothing is decoded that is longer than a payload of ours can be, the check sum is looked
//! at before anything is unpacked, and unpacking stops at [`UNPACKED`] bytes.

use std::fmt;

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use miniz_oxide::deflate::core::{
    CompressorOxide, TDEFLFlush, compress_to_output, create_comp_flags_from_zip_params,
};
use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::core::{DecompressorOxide, decompress, inflate_flags};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// The version that is written.
pub const VERSION: u32 = 2;
/// The longest payload of a link, in characters; what is longer travels as a file.
pub const LINK: usize = 32_000;
/// The longest payload that is opened, in characters.
pub const PAYLOAD: usize = 400_000;
/// The most bytes a body may unpack to.
pub const UNPACKED: usize = 1024 * 1024;

/// What links say most often: compressing goes on from here. It belongs to version 2 and is never changed.
const DICTIONARY: &[u8] = include_bytes!("dictionary-2.txt");

/// What a link carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// An exercise, `#/x/`.
    Exercise,
    /// A result slip, `#/r/`.
    Slip,
    /// A set of exercises, `#/x/` like one.
    Set,
}

impl Kind {
    /// The beginning of the fragment.
    pub const fn address(self) -> &'static str {
        match self {
            Kind::Exercise | Kind::Set => "#/x/",
            Kind::Slip => "#/r/",
        }
    }

    const fn mark(self) -> u8 {
        match self {
            Kind::Exercise => b'x',
            Kind::Slip => b'r',
            Kind::Set => b's',
        }
    }

    const ALL: [Kind; 3] = [Kind::Exercise, Kind::Slip, Kind::Set];
}

/// Why a link could not be opened or made; shown as it is, it says what to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkError {
    /// Its end is missing.
    Cut,
    /// Characters in it were changed.
    Damaged,
    /// It is longer, or unpacks to more, than any link of this page.
    TooLong,
    /// It was made by a later version of this page.
    Newer(u32),
    /// It is whole, and of the other kind.
    Other(Kind),
    /// What is to be put into a link is too long for one.
    TooMuch,
}

impl fmt::Display for LinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            LinkError::Cut => {
                "This link is cut short: its end is missing. Copy the whole link and open it again, or ask for it to be sent again."
            }
            LinkError::Damaged => {
                "This link is damaged: some of its characters were changed on the way. Ask for it to be sent again."
            }
            LinkError::TooLong => {
                "This link is longer than any link this page makes, so it was not opened. Ask for it to be sent again."
            }
            LinkError::Newer(_) => {
                "This link was made by a newer version of this page. Reload the page to get that version, then open the link again; if that does not help, ask for it to be sent again."
            }
            LinkError::Other(Kind::Slip) => {
                "This link holds a result slip and not an exercise. Open it with #/r/ in place of #/x/, or ask for the exercise’s link."
            }
            LinkError::Other(Kind::Exercise | Kind::Set) => {
                "This link holds an exercise and not a result slip. Open it with #/x/ in place of #/r/, or ask for the slip’s link."
            }
            LinkError::TooMuch => "This is too long for an exercise. Shorten the text, or make two exercises of it.",
        })
    }
}

impl std::error::Error for LinkError {}

/// The payload that carries these contents. One longer than [`LINK`] travels as a file.
///
/// # Errors
/// [`LinkError::TooMuch`] when they do not fit.
pub fn seal(kind: Kind, contents: &impl Serialize) -> Result<String, LinkError> {
    seal_as(VERSION, kind, contents)
}

/// The payload as version 1 made it. Work on an exercise is kept under a name that was made from it, and stays there.
pub(super) fn seal_as_before(kind: Kind, contents: &impl Serialize) -> Result<String, LinkError> {
    seal_as(1, kind, contents)
}

fn seal_as(version: u32, kind: Kind, contents: &impl Serialize) -> Result<String, LinkError> {
    let json = serde_json::to_vec(contents).map_err(|_| LinkError::TooMuch)?;
    if json.len() > UNPACKED {
        return Err(LinkError::TooMuch);
    }
    let body = if version == 1 { miniz_oxide::deflate::compress_to_vec(&json, 9) } else { pack(&json) };
    let width = length_width(version);
    let length = u32::try_from(body.len()).map_err(|_| LinkError::TooMuch)?.to_le_bytes();
    if length[width..].iter().any(|byte| *byte > 0) {
        return Err(LinkError::TooMuch);
    }
    let mut bytes = Vec::with_capacity(4 + width + body.len());
    bytes.extend(check_sum(version, kind, &length[..width], &body).to_le_bytes());
    bytes.extend(&length[..width]);
    bytes.extend(body);
    let payload = format!("{version}-{}", URL_SAFE_NO_PAD.encode(bytes));
    if payload.len() > PAYLOAD { Err(LinkError::TooMuch) } else { Ok(payload) }
}

/// Bytes in the length of a body.
const fn length_width(version: u32) -> usize {
    if version == 1 { 2 } else { 3 }
}

/// The contents of a payload; spaces and line ends around it are no part of it.
///
/// # Errors
/// [`LinkError::TooLong`], [`LinkError::Newer`], [`LinkError::Cut`], [`LinkError::Other`], else
/// [`LinkError::Damaged`].
pub fn open<T: DeserializeOwned>(kind: Kind, payload: &str) -> Result<T, LinkError> {
    let payload = payload.trim();
    if payload.len() > PAYLOAD {
        return Err(LinkError::TooLong);
    }
    if payload.is_empty() {
        return Err(LinkError::Cut);
    }
    let Some((version, packed)) = payload.split_once('-') else {
        let plain = payload.chars().all(|c| c.is_ascii_digit());
        return Err(if plain { LinkError::Cut } else { LinkError::Damaged });
    };
    let version = match version_of(version) {
        Some(newer) if newer > VERSION => return Err(LinkError::Newer(newer)),
        Some(known) => known,
        None => return Err(LinkError::Damaged),
    };
    let head = 4 + length_width(version);
    // A rest of one character, or bits left over in the last one, are what a cut leaves behind as well.
    let whole = URL_SAFE_NO_PAD.decode(packed);
    let bytes = match whole {
        Ok(bytes) if bytes.len() < head => return Err(LinkError::Cut),
        Ok(bytes) => bytes,
        Err(base64::DecodeError::InvalidLength(_) | base64::DecodeError::InvalidLastSymbol(..)) => {
            return Err(LinkError::Cut);
        }
        Err(_) => return Err(LinkError::Damaged),
    };
    let sum = u32::from_le_bytes([bytes[0], bytes[1], bytes[2], bytes[3]]);
    let told = &bytes[4..head];
    let length = told.iter().rev().fold(0, |length, byte| length << 8 | usize::from(*byte));
    let body = &bytes[head..];
    if body.len() < length {
        return Err(LinkError::Cut);
    }
    if body.len() > length {
        return Err(LinkError::Damaged);
    }
    if sum != check_sum(version, kind, told, body) {
        let other = Kind::ALL.into_iter().find(|other| sum == check_sum(version, *other, told, body));
        return Err(other.map_or(LinkError::Damaged, LinkError::Other));
    }
    let json = if version == 1 {
        let unpacked = miniz_oxide::inflate::decompress_to_vec_with_limit(body, UNPACKED);
        unpacked.map_err(|error| match error.status {
            TINFLStatus::HasMoreOutput => LinkError::TooLong,
            _ => LinkError::Damaged,
        })?
    } else {
        unpack(body)?
    };
    serde_json::from_slice(&json).map_err(|_| LinkError::Damaged)
}

/// A version is a number from 1 without leading zeros.
fn version_of(text: &str) -> Option<u32> {
    let plain = text.len() <= 6 && !text.starts_with('0') && text.chars().all(|c| c.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// Compresses as if [`DICTIONARY`] had been compressed before.
fn pack(plain: &[u8]) -> Vec<u8> {
    // The best level, a bare stream, the common strategy.
    let mut compressor = CompressorOxide::new(create_comp_flags_from_zip_params(9, -15, 0));
    // What is made of the dictionary ends on a whole byte, and is left away.
    compress_to_output(&mut compressor, DICTIONARY, TDEFLFlush::Sync, |_| true);
    let mut packed = Vec::with_capacity(plain.len() / 2);
    compress_to_output(&mut compressor, plain, TDEFLFlush::Finish, |bytes| {
        packed.extend_from_slice(bytes);
        true
    });
    packed
}

/// Undoes [`pack`].
fn unpack(packed: &[u8]) -> Result<Vec<u8>, LinkError> {
    let mut plain = DICTIONARY.to_vec();
    let (mut from, mut to) = (0, plain.len());
    let mut inflater = DecompressorOxide::new();
    loop {
        if to == plain.len() {
            let more = (2 * to).min(DICTIONARY.len() + UNPACKED);
            if more == to {
                return Err(LinkError::TooLong);
            }
            plain.resize(more, 0);
        }
        let flags = inflate_flags::TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF;
        let (status, read, written) = decompress(&mut inflater, &packed[from..], &mut plain, to, flags);
        (from, to) = (from + read, to + written);
        match status {
            TINFLStatus::Done if from == packed.len() => break,
            TINFLStatus::HasMoreOutput => {}
            _ => return Err(LinkError::Damaged),
        }
    }
    plain.truncate(to);
    Ok(plain.split_off(DICTIONARY.len()))
}

fn check_sum(version: u32, kind: Kind, length: &[u8], body: &[u8]) -> u32 {
    // Without a table: a link is short, and the page is to stay small.
    let crc = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);
    let mut digest = crc.digest();
    digest.update(&[kind.mark()]);
    if version > 1 {
        digest.update(&version.to_le_bytes());
    }
    digest.update(length);
    digest.update(body);
    digest.finalize()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::Value;

    /// A payload with a good check sum around any body.
    fn around(version: u32, body: &[u8]) -> String {
        let length = &(body.len() as u32).to_le_bytes()[..length_width(version)];
        let mut bytes = check_sum(version, Kind::Exercise, length, body).to_le_bytes().to_vec();
        bytes.extend(length);
        bytes.extend(body);
        format!("{version}-{}", URL_SAFE_NO_PAD.encode(bytes))
    }

    #[test]
    fn a_small_link_that_unpacks_to_much_is_stopped() {
        let spaces = vec![b' '; 16 * 1024 * 1024];
        for (version, bomb) in [(1, miniz_oxide::deflate::compress_to_vec(&spaces, 9)), (2, pack(&spaces))] {
            let payload = around(version, &bomb);
            assert!(payload.len() < PAYLOAD, "{}", payload.len());
            assert_eq!(open::<Value>(Kind::Exercise, &payload), Err(LinkError::TooLong));
        }
    }

    #[test]
    fn each_failure_has_its_name() {
        let good = seal(Kind::Exercise, &"Hallam Quay").unwrap();
        let open = |payload: &str| super::open::<Value>(Kind::Exercise, payload);
        assert!(open(&good).is_ok());
        assert_eq!(open(""), Err(LinkError::Cut));
        assert_eq!(open("2"), Err(LinkError::Cut));
        assert_eq!(open(&good[..good.len() / 2]), Err(LinkError::Cut));
        assert_eq!(open(&good.replacen("2-", "3-", 1)), Err(LinkError::Newer(3)));
        assert_eq!(open(&good.replacen("2-", "02-", 1)), Err(LinkError::Damaged));
        assert!(open(&good.replacen("2-", "1-", 1)).is_err());
        assert_eq!(open(&"A".repeat(PAYLOAD + 1)), Err(LinkError::TooLong));
        assert_eq!(open("no link at all"), Err(LinkError::Damaged));
        assert_eq!(super::open::<Value>(Kind::Slip, &good), Err(LinkError::Other(Kind::Exercise)));
        for version in [1, 2] {
            assert_eq!(open(&around(version, b"not compressed")), Err(LinkError::Damaged));
        }
        // What is sealed as before opens as well.
        let before = seal_as_before(Kind::Exercise, &"Hallam Quay").unwrap();
        assert!(before.starts_with("1-") && open(&before).is_ok());
    }

    /// A link of a text of 1,000 characters, at a site whose address has forty. The texts are the shelf's and stand in the
    /// dictionary in part; those of this file's own first lines do not.
    #[test]
    fn a_thousand_characters_of_print_fit_into_a_link() {
        let mut texts: Vec<String> = std::fs::read_dir("www/data/shelf")
            .unwrap()
            .map(|entry| std::fs::read_to_string(entry.unwrap().path()).unwrap())
            .collect();
        texts.push(include_str!("envelope.rs").replace("//!", ""));
        texts.push(include_str!("../../README.md").to_owned());
        for text in texts {
            let text: String = text.chars().take(1000).collect();
            let set = crate::exercise::Exercise { title: "Notice 2".into(), text, ..Default::default() };
            let payload = set.to_payload().unwrap();
            assert!(40 + "#/x/".len() + payload.len() <= 850, "{} for {}", payload.len(), set.text);
        }
    }

    /// Source of the value: the catalogue of parametrised CRC algorithms, check value of CRC-32/ISO-HDLC over
    /// "123456789" (from memory).
    #[test]
    fn the_check_sum_is_the_common_one() {
        assert_eq!(Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(b"123456789"), 0xCBF4_3926);
    }

    proptest! {
        #[test]
        fn any_text_is_answered(payload in "\\PC{0,200}") {
            let _ = open::<Value>(Kind::Exercise, &payload);
        }

        #[test]
        fn any_body_is_answered(body in prop::collection::vec(any::<u8>(), 0..400)) {
            for version in [1, 2] {
                let _ = open::<super::super::Exercise>(Kind::Exercise, &around(version, &body));
            }
        }

        #[test]
        fn what_is_packed_comes_back(plain in prop::collection::vec(any::<u8>(), 0..3000)) {
            prop_assert_eq!(unpack(&pack(&plain)), Ok(plain));
        }
    }
}
