//! Random walks of the reader over whole floras, without a terminal: no press at any size of the window ends in a panic, back
//! undoes forward exactly and touches no decision, and what is still possible is what a plain count finds.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::sync::Mutex;
use std::thread;

use ligule::keying::{Plant, Spot};
use ligule::model::{CoupletId, Flora, KeyId, Target, TaxonId};
use ligule::reader::{Rehearsal, Session, Shown};
use ligule::search::Index;
use ligule::store::Book;

use crate::presses::flora;
use crate::support::note;

/// Walks over all floras together, as the issue asks for, and the threads that share those of one flora.
const WALKS: u64 = 10_002;
const THREADS: u64 = 2;

/// Presses of a walk before the way back; back and forward come on top.
const STEPS: u64 = 24;

/// The sizes between which windows are drawn at random.
const SIZES: [(u16, u16); 2] = [(40, 12), (200, 60)];

/// A window in which the head of every screen is whole.
const READABLE: (u16, u16) = (120, 40);

/// Presses that lead on; every other one is drawn from all keys alike, so that walks get somewhere.
const LEADING: &str =
    "1 2 1 2 3 1 2 enter enter enter tab j down b f x m - n esc y , t d o u O . = / a é 7 space";

/// Keys that change on purpose what keys do, set a place beside the other, or jump along the way; the reader's own tests have
/// them.
const OF_HANDS: [&str; 7] = [";", "f2", "H", "S", "B", "Y", "N"];

/// The floras walked through: the demo, one with bracketed and one with indented keys.
const FLORAS: [&str; 3] =
    ["corpus-demo/flora.pdf", "reference/sim/alder/flora.pdf", "reference/sim/moss/flora.pdf"];

/// A fixed series of numbers.
struct Series(u64);

impl Series {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    fn size(&mut self) -> (u16, u16) {
        let [least, most] = SIZES;
        // Every other window is a small one, where less fits.
        let most = if self.below(2) == 0 { (90, 30) } else { most };
        let mut between = |from: u16, to: u16| from + self.below(u64::from(to - from) + 1) as u16;
        (between(least.0, most.0), between(least.1, most.1))
    }
}

/// A reader on a walk, with what was done so far.
struct Walker<'a> {
    reader: Rehearsal,
    log: &'a Mutex<String>,
    presses: u64,
    /// Places that were looked at again exactly as they were left.
    compared: u64,
}

/// What a place looked like when it was left, and on what that depends beside the place.
struct Left {
    shown: Shown,
    size: (u16, u16),
    light: String,
    learned: Option<String>,
    plants: Vec<Plant>,
}

impl Walker<'_> {
    fn press(&mut self, key: &str) {
        self.presses += 1;
        write!(self.log.lock().expect("one thread writes"), " {key}").expect("a string takes any text");
        self.reader.press(key).expect("a reader that goes on");
    }

    fn resize(&mut self, size: (u16, u16)) {
        write!(self.log.lock().expect("one thread writes"), " {}x{}", size.0, size.1)
            .expect("a string takes any text");
        self.reader.resize(size).expect("a reader that goes on");
    }

    /// Closes whatever lies over the screen.
    fn close(&mut self) {
        for _ in 0..3 {
            if self.reader.is_overlaid() {
                self.press("esc");
            }
        }
        assert!(!self.reader.is_overlaid(), "something stays over the screen\n{}", self.reader.text());
    }

    /// Walks at random; then checks what is possible, and goes all the way back, forward and back again.
    fn walk(&mut self, series: &mut Series, keys: (&[&str], &[&str]), flora: &Flora) {
        let mut size = series.size();
        self.resize(size);
        let mut left: Vec<Option<Left>> = Vec::new();
        for _ in 0..STEPS {
            if series.below(12) == 0 {
                size = series.size();
                self.resize(size);
            }
            let from = if series.below(2) == 0 { keys.0 } else { keys.1 };
            let key = from[series.below(from.len() as u64) as usize];
            let here = (!self.reader.is_overlaid()).then(|| Left {
                shown: self.reader.bare(),
                size,
                light: self.reader.light(),
                learned: self.reader.learned(),
                plants: self.reader.plants().to_vec(),
            });
            let depth = self.reader.places_behind();
            self.press(key);
            assert!(!self.reader.text().trim().is_empty(), "nothing is shown");
            left.truncate(self.reader.places_behind());
            if self.reader.places_behind() > depth {
                left.push(here);
            }
        }
        self.close();
        self.check_possible(flora, size);
        self.check_way(left, size);
    }

    /// Checks that each place that one goes back to is as it was left, and forward again as it was before that.
    fn check_way(&mut self, mut left: Vec<Option<Left>>, size: (u16, u16)) {
        let plants = self.reader.plants().to_vec();
        let mut seen: Vec<Shown> = Vec::new();
        while self.reader.places_behind() > 0 {
            self.press("b");
            let shown = self.reader.bare();
            if let Some(before) = left.pop().flatten()
                && before.size == size
                && before.plants == plants
                && before.light == self.reader.light()
                && before.learned == self.reader.learned()
            {
                self.compared += 1;
                self.same(&shown, &before.shown, "is not as it was left");
            }
            seen.push(shown);
        }
        seen.pop();
        while let Some(before) = seen.pop() {
            self.press("f");
            let shown = self.reader.bare();
            self.same(&shown, &before, "is not as it was on the way back");
        }
        assert!(self.reader.plants() == plants, "stepping changed a decision");
    }

    fn same(&self, found: &Shown, expected: &Shown, what: &str) {
        assert!(found == expected, "this {what}\n{}\n\nbut was\n{expected:?}", self.reader.text());
    }

    /// Checks that the trail names as many taxa as a plain count over the keys finds.
    fn check_possible(&mut self, flora: &Flora, size: (u16, u16)) {
        self.resize(READABLE);
        let plant = self.reader.plant().clone();
        let expected = possible(flora, &plant).len();
        let depth = self.reader.places_behind();
        self.press("-");
        let noun = if expected == 1 { "taxon" } else { "taxa" };
        let words = format!("{expected} {noun} possible");
        let text: String = self.reader.text().split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(&words), "not {words}\n{}", self.reader.text());
        if self.reader.places_behind() > depth {
            self.press("b");
        }
        self.resize(size);
    }
}

/// What can be the plant at hand: the taxa under the leads kept, by going through the keys of the book themselves.
fn possible(flora: &Flora, plant: &Plant) -> BTreeSet<(Option<TaxonId>, String)> {
    let decisions = &plant.branch().decisions;
    let keeps = |spot: Spot, lead: usize| {
        decisions.iter().find(|one| one.spot == spot && !one.lost).is_none_or(|one| one.kept.contains(&lead))
    };
    let reached = |from: &[Spot], keeps: &dyn Fn(Spot, usize) -> bool| {
        let (mut couplets, mut ends) = (BTreeSet::new(), BTreeSet::new());
        let mut waiting = from.to_vec();
        while let Some(spot) = waiting.pop() {
            if couplets.insert(spot) {
                for (lead, (to, named)) in leads(flora, spot).into_iter().enumerate() {
                    if keeps(spot, lead) {
                        waiting.extend(to);
                        ends.extend(named);
                    }
                }
            }
        }
        (couplets, ends)
    };
    let roots: Vec<Spot> = if let Some(last) = decisions.last() {
        let root = decisions.iter().map(|one| one.spot);
        let mut root = root.filter(|spot| reached(&[*spot], &|_, _| true).0.contains(&last.spot));
        root.next().into_iter().collect()
    } else {
        starts(flora)
    };
    let all = reached(&roots, &keeps).1;
    // Of two keys to the same taxa, the one that was not used excludes nothing that the other knows.
    let used: BTreeSet<KeyId> = decisions.iter().map(|one| one.spot.key).collect();
    let groups = flora.alternatives.iter().map(|group| group.keys.iter().map(|(key, _)| *key));
    let (mut passed, mut taken) = (BTreeSet::new(), Vec::new());
    for group in groups {
        let (known, other): (Vec<KeyId>, Vec<KeyId>) = group.partition(|key| used.contains(key));
        if !known.is_empty() && !other.is_empty() {
            passed.extend(other);
            taken.extend(known.into_iter().map(Spot::start));
        }
    }
    if taken.is_empty() {
        return all;
    }
    let by_used = reached(&roots, &|spot, lead| keeps(spot, lead) && !passed.contains(&spot.key)).1;
    let known = reached(&taken, &|_, _| true).1;
    all.into_iter().filter(|end| by_used.contains(end) || !known.contains(end)).collect()
}

/// Returns the starts of the keys that no lead comes to.
fn starts(flora: &Flora) -> Vec<Spot> {
    let all = flora.keys.iter().flat_map(|key| {
        (0..key.couplets.len() as u32).map(|at| Spot { key: key.id, couplet: CoupletId(at) })
    });
    let arrived: BTreeSet<Spot> = all.flat_map(|spot| leads(flora, spot)).flat_map(|(to, _)| to).collect();
    let starts = flora.keys.iter().filter(|key| !key.couplets.is_empty());
    starts.map(|key| Spot::start(key.id)).filter(|start| !arrived.contains(start)).collect()
}

/// Where a lead goes on, and the taxa in which it ends.
type Onward = (Vec<Spot>, Vec<(Option<TaxonId>, String)>);

/// Returns where each lead of a couplet goes on, and the taxa in which it ends.
fn leads(flora: &Flora, spot: Spot) -> Vec<Onward> {
    let filled = |key: &&ligule::model::Key| !key.couplets.is_empty();
    let onward = |target: &Target| -> Onward {
        match target {
            Target::Couplet(couplet) => (vec![Spot { key: spot.key, couplet: *couplet }], Vec::new()),
            Target::Key(key) => {
                let start = Some(&flora.keys[key.index()]).filter(filled).map(|key| Spot::start(key.id));
                (start.into_iter().collect(), Vec::new())
            }
            Target::Taxon { name, id } => {
                let inner = flora
                    .keys
                    .iter()
                    .filter(filled)
                    .filter(|key| id.is_some() && key.scope_id == *id && key.id != spot.key);
                let inner: Vec<Spot> = inner.map(|key| Spot::start(key.id)).collect();
                let name = if id.is_some() { String::new() } else { name.clone() };
                let end = inner.is_empty().then_some((*id, name));
                (inner, end.into_iter().collect())
            }
            Target::Unresolved(_) => (Vec::new(), Vec::new()),
        }
    };
    let couplet = flora.keys[spot.key.index()].couplet(spot.couplet);
    let of_lead = |lead: &ligule::model::Lead| {
        let all = std::iter::once(&lead.to).chain(&lead.also).map(onward);
        all.fold((Vec::new(), Vec::new()), |mut sum, one| {
            sum.0.extend(one.0);
            sum.1.extend(one.1);
            sum
        })
    };
    couplet.into_iter().flat_map(|couplet| &couplet.leads).map(of_lead).collect()
}

/// Takes the walks with these numbers, and returns how many presses they were and how many places were compared.
fn wander(flora: &Flora, numbers: impl Iterator<Item = u64>, log: &Mutex<String>) -> [u64; 2] {
    let all: Vec<&str> = Rehearsal::keys().into_iter().filter(|key| !OF_HANDS.contains(key)).collect();
    let leading: Vec<&str> = LEADING.split_whitespace().collect();
    let index = Index::in_memory(flora).expect("an index of the flora");
    let book = Book::of("flora", flora.clone());
    let session = Session { book: Some(book), index: Some(index), ..Session::default() };
    let reader = Rehearsal::open(session, SIZES[0]).expect("a first screen");
    let mut walker = Walker { reader, log, presses: 0, compared: 0 };
    for number in numbers {
        *log.lock().expect("one thread writes") = format!("walk {number}:");
        walker.reader.begin_anew().expect("a reader that begins");
        let mut series = Series(number.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        walker.walk(&mut series, (&all, &leading), flora);
    }
    [walker.presses, walker.compared]
}

fn sum(one: [u64; 2], other: [u64; 2]) -> [u64; 2] {
    [one[0] + other[0], one[1] + other[1]]
}

/// Walks through one flora in several threads; what one of them did before it failed is told.
#[track_caller]
fn check_walks(file: &str, walks: u64) -> [u64; 2] {
    let Some(flora) = flora(file) else { return [0; 2] };
    let logs: Vec<Mutex<String>> = (0..THREADS).map(|_| Mutex::default()).collect();
    thread::scope(|scope| {
        let started: Vec<_> = logs
            .iter()
            .enumerate()
            .map(|(at, log)| {
                let (flora, numbers) = (&flora, (at as u64..walks).step_by(THREADS as usize));
                scope.spawn(move || wander(flora, numbers, log))
            })
            .collect();
        let ended = started.into_iter().zip(&logs).map(|(thread, log)| {
            thread.join().unwrap_or_else(|_| {
                let log = log.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
                panic!("{file}, {log}")
            })
        });
        ended.fold([0; 2], sum)
    })
}

#[test]
fn ten_thousand_walks_lose_nothing_at_any_size_of_the_window() {
    let each = WALKS / FLORAS.len() as u64;
    let [presses, compared] = FLORAS.iter().map(|file| check_walks(file, each)).fold([0; 2], sum);
    note("wandering", &format!("{WALKS} walks, {presses} presses, {compared} places as they were left"));
    assert!(presses > each * STEPS, "only {presses} presses");
    assert!(compared > each, "only {compared} places were compared");
}
