//! A key growing lead by lead: whether a label fits the leads before it, and which couplet it opens or joins.
//!
//! One rule holds for bracketed and indented keys alike: a new couplet is welcome where a lead calls for it, by number
//! or by ending without a target; a rival is welcome where its couplet is open (K5, K6, K11, K38).

use super::blurred::{self, Expected};
use super::label::{Label, Rival, Scheme, Series};

/// Which couplet a lead belongs to, by position in the key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fit {
    /// It opens a couplet.
    Opens,
    /// It is the rival of a couplet's leads.
    Joins(usize),
}

/// A couplet so far.
#[derive(Clone, Debug)]
pub(crate) struct Sprout {
    /// What its leads share.
    pub(crate) series: Series,
    /// Positions of its leads.
    pub(crate) leads: Vec<usize>,
    /// Left edge of its labels from the column's edge, points.
    indent: f32,
}

/// What a lead brought besides its label.
#[derive(Clone, Debug, Default)]
pub(crate) struct Outcome {
    /// Couplet numbers that it leads to.
    pub(crate) numbers: Vec<u32>,
    /// Whether it prints any target.
    pub(crate) has_target: bool,
}

/// A candidate for the next lead.
#[derive(Clone, Copy)]
pub(crate) struct Candidate<'a> {
    /// Its label.
    pub(crate) label: &'a Label,
    /// Left edge of the label from the column's edge, points.
    pub(crate) indent: f32,
    /// Whether what follows the label looks like the heading of a treatment.
    pub(crate) heading: bool,
}

/// The state of a growing key.
#[derive(Clone, Debug, Default)]
pub(crate) struct Growth {
    scheme: Option<Scheme>,
    couplets: Vec<Sprout>,
    /// Open couplets from the start to where the reading stands (indented keys).
    path: Vec<usize>,
    outcomes: Vec<Outcome>,
    primes: bool,
    odd: Vec<usize>,
    /// The number besides 1 that the key may begin with (K16).
    runs_on: Option<u32>,
}

/// Points by which the second level is taken to stand in before the key has shown it (half an em; common practice).
const FIRST_STEP: f32 = 5.0;
/// Points by which labels of one level may differ.
const LEVEL_TOLERANCE: f32 = 3.0;

impl Growth {
    /// Returns the couplets so far.
    pub(crate) fn couplets(&self) -> &[Sprout] {
        &self.couplets
    }

    /// Returns the leads whose label did not fit and was mended by its neighbours (K18).
    pub(crate) fn odd(&self) -> &[usize] {
        &self.odd
    }

    /// Says whether leads end in couplet numbers.
    pub(crate) fn numbered(&self) -> bool {
        self.outcomes.iter().any(|outcome| !outcome.numbers.is_empty())
    }

    /// Says whether every couplet has its rivals, every number its couplet, and the last lead its target.
    pub(crate) fn complete(&self) -> bool {
        !self.couplets.is_empty()
            && self.couplets.iter().all(|couplet| couplet.leads.len() > 1)
            && self.wanted().all(|number| self.find(Series::Number(number)).is_some())
            && !self.sends_to_itself()
            && self.last_has_target()
    }

    /// A lead that sends to its own couplet is a misprint for one that is still to come (K42).
    fn sends_to_itself(&self) -> bool {
        self.couplets.iter().any(|couplet| match couplet.series {
            Series::Number(number) => {
                couplet.leads.iter().any(|lead| self.outcomes[*lead].numbers.contains(&number))
            }
            Series::Letter(_) | Series::Bullet | Series::Dash => false,
        })
    }

    /// Returns the couplet number of a lead.
    pub(crate) fn number_of(&self, lead: usize) -> Option<u32> {
        self.couplets.iter().find(|couplet| couplet.leads.contains(&lead)).and_then(|couplet| {
            match couplet.series {
                Series::Number(number) => Some(number),
                Series::Letter(_) | Series::Bullet | Series::Dash => None,
            }
        })
    }

    /// Says where a candidate fits, if it does.
    pub(crate) fn fit(&self, candidate: &Candidate<'_>) -> Option<Fit> {
        let Some(scheme) = self.scheme else { return self.first(candidate.label).then_some(Fit::Opens) };
        let label = candidate.label;
        if candidate.heading && self.complete() {
            return None;
        }
        match label.series {
            Series::Dash => self.dash(candidate),
            Series::Bullet => (scheme == Scheme::Bullet && !candidate.heading).then_some(Fit::Joins(0)),
            Series::Number(number) => {
                (scheme == label.scheme).then(|| self.number(number, candidate)).flatten()
            }
            Series::Letter(letter) => {
                (scheme == label.scheme).then(|| self.letter(letter, candidate)).flatten()
            }
        }
    }

    /// Lets the key begin with a number that runs on from the key before.
    pub(crate) fn run_on(&mut self, number: Option<u32>) {
        self.runs_on = number;
    }

    /// Reads a misread label of letters as the one that is expected where it stands (K18).
    pub(crate) fn mend(&self, text: &str, indent: f32) -> Option<Label> {
        if !matches!(self.scheme, Some(Scheme::Lower | Scheme::Upper)) {
            return None;
        }
        blurred::mend(blurred::token(text)?, indent, &self.expected())
    }

    /// Returns the label of letters that words at this indent have lost, where the key awaits one: after a lead that
    /// has its target, or a level deeper.
    pub(crate) fn lost(&self, indent: f32, hang: f32) -> Option<Label> {
        if !matches!(self.scheme, Some(Scheme::Lower | Scheme::Upper)) {
            return None;
        }
        let mut expected = self.expected();
        expected.retain(|one| (one.rival == Rival::Nth(0)) != self.last_has_target());
        blurred::lost(indent, hang, &expected)
    }

    /// The labels of letters that would fit next: one level deeper where the last lead calls for it, or a rival.
    fn expected(&self) -> Vec<Expected> {
        let letter = |couplet: usize| match self.couplets[couplet].series {
            Series::Letter(letter) => Some(letter),
            Series::Number(_) | Series::Bullet | Series::Dash => None,
        };
        let mut expected = Vec::new();
        let lonely = |couplet: &&usize| self.couplets[**couplet].leads.len() == 1;
        for couplet in self.path.iter().rev().filter(lonely) {
            let one = &self.couplets[*couplet];
            expected.push(Expected { series: one.series, rival: Rival::Nth(1), indent: one.indent });
        }
        let top = self.path.last().copied();
        if let Some(top) = top.filter(|_| !self.last_has_target())
            && let Some(next) = letter(top).and_then(|letter| char::from_u32(letter as u32 + 1))
        {
            let indent = self.couplets[top].indent + self.step();
            expected.push(Expected { series: Series::Letter(next), rival: Rival::Nth(0), indent });
        }
        expected
    }

    /// Points by which the last level stands right of the one above.
    fn step(&self) -> f32 {
        match self.path.as_slice() {
            [.., above, top] => self.couplets[*top].indent - self.couplets[*above].indent,
            _ => FIRST_STEP,
        }
    }

    fn first(&self, label: &Label) -> bool {
        let first = match label.series {
            Series::Number(number) => number == 1 || self.runs_on == Some(number),
            Series::Letter(letter) => letter.eq_ignore_ascii_case(&'a'),
            Series::Bullet => true,
            Series::Dash => false,
        };
        first && matches!(label.rival, Rival::Unsaid | Rival::Nth(0))
    }

    fn number(&self, number: u32, candidate: &Candidate<'_>) -> Option<Fit> {
        let label = candidate.label;
        let known = self.find(Series::Number(number));
        match (known, label.rival) {
            (Some(couplet), Rival::Nth(nth)) if nth > 0 => Some(Fit::Joins(couplet)),
            // A number printed twice: its couplets are parted when the whole key is known (K42).
            (Some(couplet), Rival::Nth(_)) if number > 1 && self.awaits(number + 1) => {
                let full = self.couplets[couplet].leads.len() > 1 && self.last_has_target();
                (full && !candidate.heading).then_some(Fit::Joins(couplet))
            }
            (Some(couplet), Rival::Unsaid) if !self.primes => {
                let open = self.couplets[couplet].leads.len() < 2;
                (open || !candidate.heading && self.path.contains(&couplet)).then_some(Fit::Joins(couplet))
            }
            // A prime was dropped: its couplet waits for a rival at this depth (K18).
            (Some(couplet), Rival::Unsaid) => {
                let waits = self.couplets[couplet].leads.len() == 1 && self.path.contains(&couplet);
                (waits && !candidate.heading && self.near(couplet, candidate.indent))
                    .then_some(Fit::Joins(couplet))
            }
            (Some(_), _) => None,
            (None, Rival::Nth(nth)) if nth > 0 => None,
            (None, _) => {
                let next = self.highest() + 1;
                let called = self.wanted().any(|wanted| wanted == number);
                let follows = !self.last_has_target() && number <= next + 2 && number > 1;
                let skipped = !self.complete() && number == next && !candidate.heading && self.numbered();
                // The lead that leads here may have lost its number in print (K42); a next key would begin with 1.
                let sure = label.scheme == Scheme::NumberLetter && number == next && !candidate.heading;
                (called || follows || skipped || sure && self.numbered()).then_some(Fit::Opens)
            }
        }
    }

    fn letter(&self, letter: char, candidate: &Candidate<'_>) -> Option<Fit> {
        let open = self
            .path
            .iter()
            .rev()
            .copied()
            .find(|couplet| self.couplets[*couplet].series == Series::Letter(letter));
        match candidate.label.rival {
            Rival::Nth(0) | Rival::Unsaid => {
                let deeper =
                    self.path.last().is_none_or(|top| self.couplets[*top].series < Series::Letter(letter));
                if !self.last_has_target() && deeper {
                    return Some(Fit::Opens);
                }
                let lonely = open.filter(|couplet| self.couplets[*couplet].leads.len() == 1);
                lonely.map(Fit::Joins)
            }
            Rival::Nth(_) => open.map(Fit::Joins),
        }
    }

    /// A dash is the rival of the last couplet, or of the open couplet whose labels stand at its indent.
    fn dash(&self, candidate: &Candidate<'_>) -> Option<Fit> {
        if candidate.heading {
            return None;
        }
        let last = self.couplets.len().checked_sub(1)?;
        if self.numbered() || self.couplets[last].leads.len() == 1 && self.near(last, candidate.indent) {
            return Some(Fit::Joins(last));
        }
        let level = self.path.iter().rev().copied().find(|couplet| self.near(*couplet, candidate.indent));
        level.or((!self.complete()).then_some(last)).map(Fit::Joins)
    }

    fn near(&self, couplet: usize, indent: f32) -> bool {
        (self.couplets[couplet].indent - indent).abs() < LEVEL_TOLERANCE
    }

    /// Takes a lead; its outcome is told later by [`Growth::settle`].
    pub(crate) fn take(&mut self, candidate: &Candidate<'_>, fit: Fit) {
        let lead = self.outcomes.len();
        let label = candidate.label;
        self.scheme.get_or_insert(label.scheme);
        self.primes |= label.scheme == Scheme::Number && matches!(label.rival, Rival::Nth(_))
            || label.series == Series::Dash;
        if label.seen.is_some() {
            self.odd.push(lead);
        }
        match fit {
            Fit::Opens => {
                self.path.push(self.couplets.len());
                self.couplets.push(Sprout {
                    series: label.series,
                    leads: vec![lead],
                    indent: candidate.indent,
                });
            }
            Fit::Joins(couplet) => {
                let expected = self.couplets[couplet].leads.len();
                let odd = match label.rival {
                    Rival::Nth(nth) => usize::from(nth) != expected,
                    Rival::Unsaid => self.primes && label.scheme == Scheme::Number,
                };
                if odd {
                    self.odd.push(lead);
                }
                self.couplets[couplet].leads.push(lead);
                if let Some(at) = self.path.iter().position(|open| *open == couplet) {
                    self.path.truncate(at + 1);
                }
            }
        }
        self.outcomes.push(Outcome::default());
    }

    /// Says whether leads carry numbers.
    pub(crate) fn has_numbers(&self) -> bool {
        matches!(self.scheme, Some(Scheme::Number | Scheme::NumberLetter | Scheme::Bracketed))
    }

    /// Says whether a lead calls for a couplet that has not come yet.
    pub(crate) fn awaits(&self, number: u32) -> bool {
        self.wanted().any(|wanted| wanted == number) && self.find(Series::Number(number)).is_none()
    }

    /// Says what the last lead turned out to lead to, once all its lines are read.
    pub(crate) fn settle(&mut self, outcome: Outcome) {
        if let Some(last) = self.outcomes.last_mut() {
            *last = outcome;
        }
    }

    fn wanted(&self) -> impl Iterator<Item = u32> + '_ {
        self.outcomes.iter().flat_map(|outcome| outcome.numbers.iter().copied())
    }

    /// Says whether the last lead prints a target.
    pub(crate) fn last_has_target(&self) -> bool {
        self.outcomes.last().is_some_and(|outcome| outcome.has_target)
    }

    fn find(&self, series: Series) -> Option<usize> {
        self.couplets.iter().rposition(|couplet| couplet.series == series)
    }

    fn highest(&self) -> u32 {
        let numbers = self.couplets.iter().filter_map(|couplet| match couplet.series {
            Series::Number(number) => Some(number),
            Series::Letter(_) | Series::Bullet | Series::Dash => None,
        });
        numbers.max().unwrap_or(0)
    }
}
