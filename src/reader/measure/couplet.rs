//! How the rows of a couplet are given out: first each rival's first line, then the lead at hand, then the definition.

use crate::reader::measure::LEAST_PANE;
use crate::reader::place::Anchor;
use crate::reader::state::{Density, State};
use crate::reader::textflow::{columns, wrap};

/// Rows of the lead at hand that are kept before a definition takes any.
const LEAST_LEAD: usize = 3;

/// Whether a row's lead goes on where the row can't show it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cut {
    /// It does not.
    Whole,
    /// It goes on below.
    Below,
    /// It begins above.
    Above,
    /// Both.
    Both,
}

/// One row of the leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Row {
    /// A row of a lead: a line of its text, of its target, or both.
    Lead {
        /// The lead.
        lead: usize,
        /// The line of the flow.
        line: Option<usize>,
        /// The target, or a line of it.
        target: Option<String>,
        /// Whether the lead goes on.
        cut: Cut,
        /// Whether it is the lead's first row shown, which has the label.
        first: bool,
    },
    /// An empty row.
    Gap,
    /// Leads that are not shown.
    Hidden(String),
}

/// The rows of a couplet, and where the lead at hand stands among its own.
#[derive(Clone, Debug, Default)]
pub(crate) struct Plan {
    /// The rows from top to bottom.
    pub(crate) rows: Vec<Row>,
    /// The first row shown of the lead at hand.
    pub(crate) top: usize,
    /// Rows shown of the lead at hand.
    pub(crate) shown: usize,
    /// Rows that the lead at hand has.
    pub(crate) all: usize,
    /// Anchors of the rows of the lead at hand.
    pub(crate) anchors: Vec<Anchor>,
}

/// Rows given to each lead and to the definition.
#[derive(Debug, PartialEq, Eq)]
struct Share {
    leads: Vec<usize>,
    gaps: bool,
    pane: usize,
}

type LeadRow = (Option<usize>, Option<String>);

/// Returns how many of `rows` a definition gets that needs `need`.
pub(super) fn pane_rows(state: &State, need: u16, rows: u16) -> u16 {
    let heights: Vec<usize> = lead_rows(state).iter().map(Vec::len).collect();
    share(&heights, state.lead(), (need as usize, rows as usize)).pane as u16
}

/// Gives out `height` rows to the leads.
pub(crate) fn plan(state: &State, height: u16) -> Plan {
    let leads = lead_rows(state);
    let heights: Vec<usize> = leads.iter().map(Vec::len).collect();
    let at = state.lead();
    let share = share(&heights, at, (0, height as usize));
    let Some(own) = leads.get(at) else { return Plan::default() };
    let anchors: Vec<Anchor> = own.iter().map(|row| anchor(state, at, row)).collect();
    let top = top(state, (own, &anchors), share.leads[at]);
    let mut plan = Plan { top, shown: share.leads[at], all: own.len(), anchors, rows: Vec::new() };
    let hidden = |count: usize, sign: &str| (count > 0).then(|| Row::Hidden(format!("{sign} {count} more")));
    let shown = |lead: &usize| *lead > 0;
    let above = share.leads.iter().take_while(|lead| !shown(lead)).count();
    let below = share.leads.iter().rev().take_while(|lead| !shown(lead)).count();
    plan.rows.extend(hidden(above, "▲"));
    for (lead, rows) in leads.iter().enumerate().filter(|(lead, _)| share.leads[*lead] > 0) {
        if share.gaps && state.density == Density::Comfortable && lead > 0 {
            plan.rows.push(Row::Gap);
        }
        let from = if lead == at { top } else { 0 };
        let to = (from + share.leads[lead]).min(rows.len());
        for (row, (line, target)) in rows.iter().enumerate().take(to).skip(from) {
            let cut = match (row == from && from > 0, row + 1 == to && to < rows.len()) {
                (false, false) => Cut::Whole,
                (false, true) => Cut::Below,
                (true, false) => Cut::Above,
                (true, true) => Cut::Both,
            };
            plan.rows.push(Row::Lead { lead, line: *line, target: target.clone(), cut, first: row == from });
        }
    }
    plan.rows.extend(hidden(below, "▼"));
    plan
}

/// Returns the rows of every lead when shown whole: its lines, with the target on the last one if it fits there.
fn lead_rows(state: &State) -> Vec<Vec<LeadRow>> {
    let width = state.lead_width();
    let mut leads = Vec::new();
    for (lead, face) in state.sheet.leads.iter().enumerate() {
        let lines = state.flow.of_block(lead);
        let text = &state.sheet.blocks[lead].text.plain;
        let mut rows: Vec<LeadRow> = lines.map(|line| (Some(line), None)).collect();
        let last = rows
            .last()
            .and_then(|(line, _)| *line)
            .map_or(0, |line| columns(text.get(state.flow.lines[line].range.clone()).unwrap_or_default()));
        match rows.last_mut() {
            Some((_, target)) if last + BEFORE_TARGET + columns(&face.target) <= width => {
                *target = Some(face.target.clone());
            }
            _ => {
                let lines = wrap(&face.target, width);
                rows.extend(lines.into_iter().map(|range| (None, Some(face.target[range].to_owned()))));
            }
        }
        leads.push(rows);
    }
    leads
}

/// Columns that must be free between the text of a lead and its target on the same row.
const BEFORE_TARGET: usize = 3;

fn anchor(state: &State, lead: usize, (line, _): &LeadRow) -> Anchor {
    let behind = state.sheet.blocks[lead].text.plain.len() + 1;
    let byte = line.map_or(behind, |line| state.flow.lines[line].range.start);
    Anchor { paragraph: lead, byte }
}

/// Returns the first row shown of the lead at hand: as the anchor wants it, but with the marked word in view.
fn top(state: &State, (rows, anchors): (&[LeadRow], &[Anchor]), shown: usize) -> usize {
    let here = &state.way.here;
    let most = rows.len().saturating_sub(shown);
    let at = state.lead();
    let wanted =
        if here.anchor.paragraph == at { anchors.partition_point(|row| *row <= here.anchor) } else { 0 };
    let top = wanted.saturating_sub(1).min(most);
    let stop = here.cursor.stop.and_then(|stop| state.sheet.stops.get(stop)).filter(|stop| stop.block == at);
    let keep = stop.map(|stop| {
        let word = Anchor { paragraph: at, byte: stop.range.start };
        anchors.partition_point(|row| *row <= word).saturating_sub(1)
    });
    match keep {
        Some(row) if row < top => row,
        Some(row) if row >= top + shown => (row + 1).saturating_sub(shown),
        Some(_) | None => top,
    }
}

/// Gives out rows: leads of `heights`, the lead at hand, and a definition that needs `need` rows.
fn share(heights: &[usize], at: usize, (need, rows): (usize, usize)) -> Share {
    let total: usize = heights.iter().sum();
    let gaps = heights.len().saturating_sub(1);
    if total + gaps + need <= rows {
        return Share { leads: heights.to_vec(), gaps: true, pane: need };
    }
    let least_pane = need.min(LEAST_PANE as usize);
    if total + least_pane <= rows {
        return Share { leads: heights.to_vec(), gaps: false, pane: need.min(rows - total) };
    }
    let own = heights.get(at).copied().unwrap_or(0);
    let pane = least_pane.min(rows.saturating_sub(own.min(LEAST_LEAD) + gaps.min(1)));
    let mut leads = first_lines(heights, at, rows - pane);
    let rivals: usize = leads.iter().sum::<usize>() - leads.get(at).copied().unwrap_or(0);
    let hidden = hidden_rows(&leads);
    let mut left = rows - pane - rivals.min(rows - pane) - hidden.min(rows - pane - rivals.min(rows - pane));
    if let Some(lead) = leads.get_mut(at) {
        *lead = own.min(left);
        left -= *lead;
    }
    grow_rivals(&mut leads, heights, &mut left);
    Share { leads, gaps: false, pane: pane + left.min(need - pane) }
}

/// Gives one row to the lead at hand and to as many rivals around it as there is room for.
fn first_lines(heights: &[usize], at: usize, rows: usize) -> Vec<usize> {
    let count = heights.len();
    let own = heights.get(at).copied().unwrap_or(0).min(LEAST_LEAD);
    let room = rows.saturating_sub(own);
    if count <= room + 1 {
        return heights.iter().map(|height| (*height).min(1)).collect();
    }
    // Two rows say how many leads lie above and below.
    let window = room.saturating_sub(2) + 1;
    let first = at.saturating_sub(window / 2).min(count - window.min(count));
    (0..count).map(|lead| usize::from(lead == at || (first..first + window).contains(&lead))).collect()
}

fn hidden_rows(leads: &[usize]) -> usize {
    usize::from(leads.first() == Some(&0)) + usize::from(leads.len() > 1 && leads.last() == Some(&0))
}

/// Gives what is left to the rivals in turn, a row at a time.
fn grow_rivals(leads: &mut [usize], heights: &[usize], left: &mut usize) {
    while *left > 0 {
        let before = *left;
        for (lead, height) in leads.iter_mut().zip(heights) {
            if *left > 0 && *lead > 0 && *lead < *height {
                *lead += 1;
                *left -= 1;
            }
        }
        if *left == before {
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_share(heights: &[usize], at: usize, need_rows: (usize, usize), leads: &[usize], pane: usize) {
        let share = share(heights, at, need_rows);
        assert_eq!((share.leads.as_slice(), share.pane), (leads, pane));
    }

    #[test]
    fn all_is_shown_whole_where_there_is_room() {
        check_share(&[2, 3], 0, (5, 20), &[2, 3], 5);
    }

    #[test]
    fn a_definition_gives_way_before_a_lead_is_cut() {
        check_share(&[5, 5], 0, (9, 15), &[5, 5], 5);
    }

    #[test]
    fn a_rival_is_cut_before_the_lead_at_hand() {
        check_share(&[6, 9], 1, (9, 15), &[2, 9], 4);
    }

    #[test]
    fn a_lead_too_long_for_all_leaves_three_lines_of_definition_and_its_rival() {
        check_share(&[40, 5], 0, (9, 17), &[12, 1], 4);
    }

    #[test]
    fn of_too_many_leads_those_around_the_lead_at_hand_are_shown() {
        let share = share(&[2; 30], 15, (4, 12));
        assert_eq!(share.leads[15], 2);
        let shown: usize = share.leads.iter().sum();
        assert!(shown + 2 + share.pane <= 12 && share.pane == 4, "{share:?}");
    }

    #[test]
    fn no_share_is_larger_than_the_window() {
        for rows in 0..25 {
            for count in 1..12 {
                for at in 0..count {
                    for need in [0, 1, 4, 9] {
                        let share = share(&vec![3; count], at, (need, rows));
                        let used: usize =
                            share.leads.iter().sum::<usize>() + share.pane + hidden_rows(&share.leads);
                        assert!(used <= rows.max(3), "{share:?} in {rows}");
                    }
                }
            }
        }
    }
}
