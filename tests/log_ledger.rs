//! The log keeps what it was told: its state is that of a simple model, and a power cut takes away nothing that was said to
//! be kept.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};

use clothwright::plan::LaidPiece;
use clothwright::plan::ledger::{
    Entry, Event, LogFile, Stage, Step, Storage, TapeKind, add_lines, fold, log_path, read_lines,
};
use jiff::civil::{Date, date};
use proptest::prelude::*;

const DAY: Date = date(2026, 5, 2);
const PIECES: [&str; 3] = ["fin", "rudder", "doily"];

fn copies() -> impl Strategy<Value = Vec<u32>> {
    prop::collection::vec(1..4_u32, 1..3)
}

fn piece() -> impl Strategy<Value = String> {
    prop::sample::select(PIECES.to_vec()).prop_map(str::to_owned)
}

fn event() -> impl Strategy<Value = Event> {
    let tape = (0..2_u32, any::<bool>()).prop_map(|(width, bias)| TapeKind { width: f64::from(width + 1), bias });
    let other_tape = (0..2_u32, any::<bool>()).prop_map(|(width, bias)| TapeKind { width: f64::from(width + 1), bias });
    prop_oneof![
        4 => (piece(), copies(), any::<bool>()).prop_map(|(piece, copies, known)| Event::Cut {
            piece, copies, cloth: known.then(|| "roll".to_owned()), size: [1.0, 2.0], laid: Vec::new(),
        }),
        3 => (piece(), copies()).prop_map(|(piece, copies)| Event::Glued { piece, copies }),
        2 => (piece(), copies()).prop_map(|(piece, copies)| Event::Finished { piece, copies }),
        2 => (piece(), copies()).prop_map(|(piece, copies)| Event::Spoiled { piece, copies, why: None }),
        1 => (tape, 1..9_u32).prop_map(|(tape, length)| Event::Tape { tape, length: f64::from(length), part: None }),
        1 => (other_tape, 1..9_u32).prop_map(|(tape, length)| Event::BoughtTape { tape, length: f64::from(length) }),
        1 => (piece(), 1..9_u32).prop_map(|(part, hours)| Event::Hours { part, step: Step::Gluing, hours: f64::from(hours) }),
        1 => (0..3_u32).prop_map(|name| Event::Bought {
            cloth: "roll".into(), name: format!("roll {name}"), length: 9.0,
        }),
        1 => any::<bool>().prop_map(|part| Event::Gone { cloth: "roll".into(), up_to: part.then_some(5.0) }),
        1 => (piece(), piece()).prop_map(|(from, to)| Event::Renamed { from, to }),
        3 => (1..30_usize).prop_map(|line| Event::Undo { line }),
    ]
}

/// A model as plain as can be: what is left of the lines after the undos, taken one copy at a time.
#[derive(Default)]
struct Model {
    /// Name, copy: how far, how often spoiled.
    copies: Vec<(String, u32, u8, u32)>,
    used: BTreeMap<(u64, bool), [f64; 2]>,
    hours: BTreeMap<String, f64>,
    bought: BTreeSet<String>,
    cut_out: usize,
    gone: bool,
}

impl Model {
    fn of(events: &[Event]) -> Self {
        // Whether a line counts is asked from the end: only a later line can take it back.
        let mut counts = vec![true; events.len() + 1];
        for line in (1..=events.len()).rev() {
            if let Event::Undo { line: target } = events[line - 1]
                && counts[line]
                && (1..line).contains(&target)
            {
                counts[target] = false;
            }
        }
        let mut model = Self::default();
        for (index, event) in events.iter().enumerate() {
            if counts[index + 1] {
                model.take(event);
            }
        }
        model
    }

    fn at(&mut self, piece: &str, copy: u32) -> &mut (String, u32, u8, u32) {
        if !self.copies.iter().any(|known| known.0 == piece && known.1 == copy) {
            self.copies.push((piece.to_owned(), copy, 0, 0));
        }
        self.copies.iter_mut().find(|known| known.0 == piece && known.1 == copy).expect("just put there")
    }

    fn all(
        &mut self,
        piece: &str,
        copies: &[u32],
        allowed: fn(u8) -> bool,
        change: impl Fn(&mut (String, u32, u8, u32)),
    ) -> usize {
        let mut numbers = copies.to_vec();
        numbers.sort_unstable();
        numbers.dedup();
        if !numbers.iter().all(|copy| allowed(self.at(piece, *copy).2)) {
            return 0;
        }
        numbers.iter().for_each(|copy| change(self.at(piece, *copy)));
        numbers.len()
    }

    fn take(&mut self, event: &Event) {
        match event {
            // What lay on cloth that is gone cannot be cut.
            Event::Cut { cloth: Some(_), .. } if self.gone => {}
            Event::Cut { piece, copies, .. } => {
                self.cut_out += self.all(piece, copies, |stage| stage == 0, |copy| copy.2 = 1);
            }
            Event::Glued { piece, copies } => {
                self.all(piece, copies, |stage| stage == 1, |copy| copy.2 = 2);
            }
            Event::Finished { piece, copies } => {
                self.all(piece, copies, |stage| stage == 1 || stage == 2, |copy| copy.2 = 3);
            }
            Event::Spoiled { piece, copies, .. } => {
                self.all(
                    piece,
                    copies,
                    |stage| stage > 0,
                    |copy| {
                        copy.2 = 0;
                        copy.3 += 1;
                    },
                );
            }
            Event::Tape { tape, length, .. } => {
                self.used.entry((tape.width as u64, tape.bias)).or_default()[0] += length
            }
            Event::BoughtTape { tape, length } => {
                self.used.entry((tape.width as u64, tape.bias)).or_default()[1] += length;
            }
            Event::Hours { part, hours, .. } => *self.hours.entry(part.clone()).or_default() += hours,
            Event::Bought { name, .. } => {
                self.bought.insert(name.clone());
            }
            Event::Gone { up_to: None, .. } => self.gone = true,
            Event::Renamed { from, to } => self.rename(from, to),
            _ => {}
        }
    }

    fn rename(&mut self, from: &str, to: &str) {
        // Asking for a copy makes an entry; only what was ever cut is there.
        let there = |name: &str| self.copies.iter().any(|copy| copy.0 == name && (copy.2 > 0 || copy.3 > 0));
        if from == to || (there(from) && there(to)) {
            return;
        }
        let (from_there, hours) = (there(from), self.hours.remove(from));
        if from_there {
            self.copies.retain(|copy| copy.0 != to);
            self.copies.iter_mut().filter(|copy| copy.0 == from).for_each(|copy| copy.0 = to.to_owned());
        }
        if let Some(hours) = hours {
            *self.hours.entry(to.to_owned()).or_default() += hours;
        }
    }
}

fn entries(events: &[Event]) -> Vec<Entry> {
    events.iter().enumerate().map(|(index, event)| Entry { line: index + 1, date: DAY, event: event.clone() }).collect()
}

fn number(stage: Stage) -> u8 {
    match stage {
        Stage::ToCut => 0,
        Stage::Cut => 1,
        Stage::Glued => 2,
        Stage::Finished => 3,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 10_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_log_stands_as_a_simple_model_says(events in prop::collection::vec(event(), 0..30)) {
        let standing = fold(&entries(&events));
        let mut model = Model::of(&events);
        for piece in PIECES {
            for copy in 1..4 {
                let (_, _, stage, spoiled) = model.at(piece, copy).clone();
                prop_assert_eq!(number(standing.stage(piece, copy)), stage, "{} {}", piece, copy);
                let times = standing.pieces.get(piece).and_then(|copies| copies.get(&copy)).map_or(0, |copy| copy.spoiled);
                prop_assert_eq!(times, spoiled, "{} {}", piece, copy);
            }
        }
        let tape: BTreeMap<_, _> =
            standing.tape.iter().map(|tape| ((tape.tape.width as u64, tape.tape.bias), [tape.used, tape.bought])).collect();
        prop_assert_eq!(tape, model.used);
        let mut hours = BTreeMap::new();
        for ((part, _), spent) in &standing.hours {
            *hours.entry(part.clone()).or_insert(0.0) += spent;
        }
        prop_assert_eq!(hours, model.hours);
        let bought: BTreeSet<String> = standing.bought.values().flatten().map(|(name, _)| name.clone()).collect();
        prop_assert_eq!(bought, model.bought);
        prop_assert_eq!(standing.cuts.len(), model.cut_out, "what was cut out of cloth stays cut out");
        prop_assert_eq!(standing.gone.contains("roll"), model.gone);
    }

    #[test]
    fn what_is_written_is_read(events in prop::collection::vec(event(), 1..10)) {
        let mut disk = Disk::default();
        add_lines(&mut disk, false, DAY, &events)?;
        let log = read_lines(&disk.bytes);
        prop_assert_eq!(log.entries, entries(&events));
        prop_assert!(log.set_aside.is_empty() && !log.open_end);
    }

    #[test]
    fn no_bytes_make_the_reader_fail(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let log = read_lines(&bytes);
        prop_assert!(log.entries.len() + log.set_aside.len() <= log.lines);
    }
}

/// A disk that dies after so many bytes: what it was given until then is there, and it never says that it is safe.
#[derive(Default)]
struct Disk {
    bytes: Vec<u8>,
    dies_at: Option<usize>,
    synced: bool,
}

impl Write for Disk {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.synced = false;
        let room = self.dies_at.map_or(bytes.len(), |most| bytes.len().min(most - self.bytes.len()));
        self.bytes.extend_from_slice(&bytes[..room]);
        if room < bytes.len() { Err(io::Error::other("power cut")) } else { Ok(room) }
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Storage for Disk {
    fn sync(&mut self) -> io::Result<()> {
        self.synced = true;
        Ok(())
    }
}

/// Five things that a club did, one of them with letters of more than a byte.
fn month() -> Vec<Event> {
    vec![
        Event::Cut {
            piece: "fin, every side".into(),
            copies: vec![1, 2],
            cloth: None,
            size: [1.0, 2.0],
            laid: Vec::new(),
        },
        Event::Glued { piece: "fin, every side".into(), copies: vec![1] },
        Event::Note { text: "Bügeleisen: 120 °C“\n”".into(), part: None },
        Event::Spoiled { piece: "fin, every side".into(), copies: vec![2], why: Some("cut into".into()) },
        Event::Hours { part: "fin".into(), step: Step::Cutting, hours: 2.5 },
    ]
}

#[test]
fn a_power_cut_at_any_byte_loses_nothing_that_was_acknowledged() {
    let mut whole = Disk::default();
    for event in month() {
        add_lines(&mut whole, false, DAY, &[event]).expect("this disk never dies");
    }
    for dies_at in 0..whole.bytes.len() {
        let mut disk = Disk { dies_at: Some(dies_at), ..Disk::default() };
        let mut acknowledged = Vec::new();
        for event in month() {
            match add_lines(&mut disk, false, DAY, std::slice::from_ref(&event)) {
                Ok(()) => {
                    assert!(disk.synced, "acknowledged before it was on the disk");
                    acknowledged.push(event);
                }
                Err(_) => break,
            }
        }
        // The power is back; somebody works on.
        let log = read_lines(&disk.bytes);
        let read: Vec<Event> = log.entries.iter().map(|entry| entry.event.clone()).collect();
        assert_eq!(read[..acknowledged.len()], acknowledged, "cut at byte {dies_at}");
        assert!(read.len() <= acknowledged.len() + 1, "cut at byte {dies_at}");
        let torn_bytes = disk.bytes.last().is_some_and(|last| *last != b'\n');
        assert_eq!(
            log.set_aside.len() + read.len() - acknowledged.len(),
            usize::from(torn_bytes),
            "cut at byte {dies_at}"
        );
        disk.dies_at = None;
        let next = Event::Note { text: "worked on".into(), part: None };
        add_lines(&mut disk, log.open_end, DAY, std::slice::from_ref(&next)).expect("the disk is new");
        let after = read_lines(&disk.bytes);
        let read_after: Vec<Event> = after.entries.iter().map(|entry| entry.event.clone()).collect();
        assert_eq!(read_after[..read.len()], read, "cut at byte {dies_at}");
        assert_eq!(read_after.last(), Some(&next), "cut at byte {dies_at}");
        assert_eq!(after.set_aside.len(), log.set_aside.len(), "a torn line stays where it is");
    }
}

#[test]
fn many_writers_at_once_lose_nothing_and_cut_no_copy_twice() {
    const WRITERS: u32 = 8;
    const EACH: u32 = 12;
    let folder = tempfile::tempdir().expect("a folder");
    let path = log_path(&folder.path().join("job.json"));
    std::thread::scope(|scope| {
        for writer in 0..WRITERS {
            let path = &path;
            scope.spawn(move || {
                for copy in 1..=EACH {
                    let note = Event::Note { text: format!("{writer} {copy}"), part: None };
                    LogFile::hold(path).expect("held").add(DAY, &[note]).expect("kept");
                    // All want the same copies: one gets each.
                    let cut = Event::Cut {
                        piece: "fin".into(),
                        copies: vec![copy],
                        cloth: None,
                        size: [1.0; 2],
                        laid: Vec::new(),
                    };
                    let _ = LogFile::hold(path).expect("held").add(DAY, &[cut]);
                }
            });
        }
    });
    let log = LogFile::read(&path).expect("read");
    assert!(log.set_aside.is_empty());
    let standing = fold(&log.entries);
    assert_eq!(standing.notes.len(), (WRITERS * EACH) as usize);
    let different: BTreeSet<&String> = standing.notes.iter().map(|note| &note.text).collect();
    assert_eq!(different.len(), (WRITERS * EACH) as usize);
    assert_eq!((standing.come_to("fin", Stage::Cut), standing.cuts.len()), (EACH as usize, EACH as usize));
    assert_eq!(standing.oddities, []);
}

/// Cloth that was thrown away is not cut; what was cut before it was thrown away stays cut.
#[test]
fn nothing_is_cut_where_cloth_is_gone() {
    let laid = |from: f64| LaidPiece {
        piece: "fin".into(),
        copy: 1,
        at: [from, 0.0],
        turn: 0.0,
        flipped: false,
        outline: vec![[from, 0.0], [from + 100.0, 0.0], [from + 100.0, 50.0]],
        holes: Vec::new(),
    };
    let cut = |from: f64| Event::Cut {
        piece: "fin".into(),
        copies: vec![1],
        cloth: Some("roll".into()),
        size: [100.0, 50.0],
        laid: vec![laid(from)],
    };
    let gone = || Event::Gone { cloth: "roll".into(), up_to: Some(500.0) };
    let cuts = |events: &[Event]| {
        let standing = fold(&entries(events));
        (standing.cuts.len(), standing.oddities.iter().map(|(_, odd)| odd.to_string()).collect::<Vec<_>>())
    };
    let (count, odd) = cuts(&[gone(), cut(450.0)]);
    assert_eq!(count, 0);
    assert!(odd[0].contains("“fin”, copy 1 would lie where the cloth “roll” is gone"), "{odd:?}");
    assert_eq!(cuts(&[gone(), cut(500.0)]), (1, Vec::new()));
    assert_eq!(cuts(&[cut(450.0), gone()]), (1, Vec::new()));
}
