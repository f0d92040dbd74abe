//! Whatever the bytes are, each reader ends soon and in words: sound files, files that once broke a reader
//! (fixtures/readers, one folder a reader), and a few thousand spoilt ones, the same on every run. The fuzz targets in
//! tests/fuzz search further with the same readers.

#[path = "support/readers.rs"]
mod readers;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};
use readers::{READERS, Reader};

/// How long one file may take without optimization.
const LONGEST: Duration = Duration::from_secs(2);
/// How many bytes of spoilt files each reader is given: about a thousand files of four kilobytes.
const BYTES: usize = 4_000_000;

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures")
}

fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(fixtures().join(folder)).into_iter().flatten().flatten();
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.path()).filter(|path| path.is_file()).collect();
    files.retain(|path| path.to_string_lossy().ends_with(ending));
    files.sort();
    files
}

/// Files that a reader has nothing against.
fn sound(reader: &str) -> Vec<Vec<u8>> {
    let read = |files: Vec<PathBuf>| files.iter().map(|file| std::fs::read(file).expect("a fixture")).collect();
    match reader {
        "job" => read(files("good", ".json")),
        "svg" => read(files("drawings", ".svg")),
        "dxf" => read(files("drawings", ".dxf")),
        "log" => read(files("readers", ".jsonl")),
        "lay" => read(vec![fixtures().join("readers/lay.json")]),
        _ => vec![
            b"M 0 0 H 300 A 100 100 0 0 1 300 200 H 0 Z".to_vec(),
            b"m10,10c0-40 60 -40,60 0s-20 30-30 30q-5 0 -10-5t-20-25zM30 10a5 5 0 1 0 10 0 5 5 0 0 0-10 0z".to_vec(),
        ],
    }
}

/// Reads, and tells a panic and a hang with the bytes that brought them.
fn survives((name, read): Reader, bytes: &[u8], what: &str) {
    let begun = Instant::now();
    let answer = catch_unwind(AssertUnwindSafe(|| read(bytes)));
    let told = || String::from_utf8_lossy(&bytes[..bytes.len().min(2_000)]).into_owned();
    if let Ok(Err(message)) = &answer {
        assert!(!message.trim().is_empty(), "{name}, {what}: an error without words:\n{}", told());
    }
    assert!(answer.is_ok(), "{name}, {what}: it panicked:\n{}", told());
    assert!(begun.elapsed() < LONGEST, "{name}, {what}: it took {:?}:\n{}", begun.elapsed(), told());
}

#[test]
fn sound_files_are_read() {
    for (name, read) in READERS {
        let sound = sound(name);
        assert!(!sound.is_empty(), "{name} has no sound file");
        for bytes in sound {
            assert_eq!(read(&bytes), Ok(()), "{name}: {}", String::from_utf8_lossy(&bytes[..bytes.len().min(400)]));
        }
    }
}

#[test]
fn what_once_broke_a_reader_breaks_it_no_more() {
    for reader in READERS {
        for file in files(&format!("readers/{}", reader.0), "") {
            survives(reader, &std::fs::read(&file).expect("a fixture"), &file.to_string_lossy());
        }
    }
}

#[test]
fn spoilt_files_end_in_words() {
    for reader in READERS {
        let sound = sound(reader.0);
        let mut random = Xoshiro256PlusPlus::seed_from_u64(2);
        let mut given = 0;
        for round in 0.. {
            let mut bytes = sound[round % sound.len()].clone();
            let changes = 1 + below(&mut random, 6);
            (0..changes).for_each(|_| spoil(&mut bytes, &mut random));
            given += bytes.len() + 100;
            if given > BYTES {
                break;
            }
            survives(reader, &bytes, &format!("round {round}"));
        }
    }
}

fn below(random: &mut Xoshiro256PlusPlus, most: usize) -> usize {
    (random.next_u64() % most.max(1) as u64) as usize
}

/// Does one thing to a file that a slip, a bad disk or a bad mind might do.
fn spoil(bytes: &mut Vec<u8>, random: &mut Xoshiro256PlusPlus) {
    const WORDS: [&str; 16] = [
        "1e400",
        "-1",
        "0",
        "99999999999999999999",
        "nan",
        "-0.0",
        "1e-300",
        "\0",
        "\u{feff}",
        "\"",
        "{",
        "]",
        "<g>",
        "M0 0",
        "\n0\n",
        "\u{1f6e9}",
    ];
    let from = below(random, bytes.len() + 1);
    let to = (from + below(random, 40)).min(bytes.len());
    match below(random, 7) {
        0 => bytes.truncate(from),
        1 => drop(bytes.drain(from..to)),
        2 => {
            let piece = bytes[from..to].to_vec();
            bytes.splice(to..to, piece);
        }
        3 => {
            let word = WORDS[below(random, WORDS.len())];
            bytes.splice(from..from, word.bytes());
        }
        4 => {
            // A number gives way to a word, which a blind change seldom does.
            let digit = |byte: &u8| byte.is_ascii_digit() || *byte == b'.';
            let start = bytes[from..].iter().position(digit).map_or(from, |at| from + at);
            let end = bytes[start..].iter().position(|byte| !digit(byte)).map_or(bytes.len(), |at| start + at);
            let word = WORDS[below(random, 8)];
            bytes.splice(start..end, word.bytes());
        }
        _ => {
            if let Some(byte) = bytes.get_mut(from) {
                *byte = random.next_u64() as u8;
            }
        }
    }
}
