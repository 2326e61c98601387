//! Statements with their indents in, couplets out: for keys that show their couplets by depth alone (K10, K11).
//!
//! A statement without a target has its offspring below it, one step deeper. Depth itself may be wrong: what can be
//! nobody's offspring is a rival, and is reported.

/// A statement as it stands on the page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing {
    /// Left edge, points from the column's edge.
    pub(super) indent: f32,
    /// Whether it prints a target.
    pub(super) has_target: bool,
    /// Its label's sort and place in the row of labels, both from 0: (2, 1) for `(b)`.
    pub(super) label: Option<(u8, u32)>,
}

/// Couplets found by depth.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Depths {
    /// Positions of the leads of each couplet, in order of their first leads.
    pub(super) couplets: Vec<Vec<usize>>,
    /// Leads that do not stand where their rivals do.
    pub(super) odd: Vec<usize>,
}

/// Points by which indents of one depth may differ.
const SAME_DEPTH: f32 = 3.0;

/// Finds the couplets.
pub(super) fn couplets(standing: &[Standing]) -> Depths {
    let mut made = Depths::default();
    // Couplets that are open from the start to where the reading stands.
    let mut path: Vec<usize> = Vec::new();
    for (at, one) in standing.iter().enumerate() {
        let parent = at.checked_sub(1).map(|before| standing[before]).filter(|before| !before.has_target);
        let deeper = parent.is_none_or(|parent| one.indent > parent.indent + SAME_DEPTH);
        if at == 0 || parent.is_some() && (deeper || opens_row(one.label, &made, standing)) {
            path.push(made.couplets.len());
            made.couplets.push(vec![at]);
            continue;
        }
        let (place, odd) = rival(one, &path, &made, standing);
        path.truncate(place + 1);
        made.couplets[path[place]].push(at);
        if odd {
            made.odd.push(at);
        }
    }
    made
}

/// A label that begins a row (A, I, (a)) below a lead without a target opens a couplet where depth is capped (K11),
/// unless a couplet without a rival waits for it.
fn opens_row(label: Option<(u8, u32)>, made: &Depths, standing: &[Standing]) -> bool {
    let used = |sort: u8| {
        let last = made.couplets.last().and_then(|leads| leads.last());
        last.is_some_and(|last| standing[*last].label.is_some_and(|(other, _)| other == sort))
    };
    label.is_some_and(|(sort, nth)| nth == 0 && !used(sort))
}

/// The open couplet that a statement joins: by the row of labels, else by depth.
fn rival(one: &Standing, path: &[usize], made: &Depths, standing: &[Standing]) -> (usize, bool) {
    let first = |couplet: usize| standing[made.couplets[couplet][0]];
    let last = |couplet: usize| made.couplets[couplet].last().and_then(|lead| standing[*lead].label);
    let same_depth = |couplet: usize| (first(couplet).indent - one.indent).abs() < SAME_DEPTH;
    let by_label = |couplet: usize| {
        one.label.is_some_and(|(sort, nth)| nth > 0 && last(couplet) == Some((sort, nth - 1)))
    };
    let find = |fits: &dyn Fn(usize) -> bool| path.iter().rposition(|couplet| fits(*couplet));
    if let Some(place) = find(&|couplet| by_label(couplet) && same_depth(couplet)) {
        return (place, false);
    }
    if let Some(place) = find(&by_label) {
        return (place, true);
    }
    if let Some(place) = find(&same_depth) {
        return (place, false);
    }
    let nearest = path.iter().enumerate().min_by(|(_, one_side), (_, other)| {
        let off = |couplet: usize| (first(couplet).indent - one.indent).abs();
        off(**one_side).total_cmp(&off(**other))
    });
    (nearest.map_or(0, |(place, _)| place), true)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each statement is drawn as its depth, with `.` where it has a target.
    #[track_caller]
    fn check_depths(drawn: &str, couplets: &[&[usize]], odd: &[usize]) {
        let standing: Vec<Standing> = drawn
            .split_whitespace()
            .map(|word| Standing {
                indent: word.trim_end_matches('.').parse::<f32>().expect("a depth") * 8.0,
                has_target: word.ends_with('.'),
                label: None,
            })
            .collect();
        let found = super::couplets(&standing);
        assert_eq!(
            (found.couplets, found.odd),
            (couplets.iter().map(|leads| leads.to_vec()).collect(), odd.to_vec())
        );
    }

    #[test]
    fn offspring_stands_deeper_and_rivals_at_one_depth() {
        check_depths("0 1. 1. 0.", &[&[0, 3], &[1, 2]], &[]);
        check_depths("0 1 2. 2. 1. 0 1. 1.", &[&[0, 5], &[1, 4], &[2, 3], &[6, 7]], &[]);
        check_depths("0. 0. 0.", &[&[0, 1, 2]], &[]);
    }

    #[test]
    fn a_rival_that_stands_too_deep_is_told() {
        check_depths("0 1. 2. 0.", &[&[0, 3], &[1, 2]], &[2]);
    }

    #[test]
    fn offspring_may_be_deeper_in_one_branch_than_in_the_other() {
        check_depths("0 1. 1. 0 2. 2.", &[&[0, 3], &[1, 2], &[4, 5]], &[]);
    }
}
