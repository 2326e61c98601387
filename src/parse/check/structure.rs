//! A key's graph and its numbers (K37, K38): couplets unreached or alone, numbers skipped, back references that no lead
//! answers, cycles.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::{Couplet, CoupletId, Doubt, DoubtAbout, DoubtKind, Key, Target};
use crate::parse::key::label::{Scheme, Series};
use crate::parse::key::read::RawKey;

/// Tells what is odd in one key; what only the print shows is told where it is at hand.
pub(super) fn doubts(key: &Key, raw: Option<&RawKey>, doubts: &mut Vec<Doubt>) {
    let arrivals = arrivals(key);
    for at in 0..key.couplets.len() {
        if at > 0 && !arrivals.contains_key(&at) {
            let advice = unreached(key, raw, &arrivals, at);
            doubts.push(doubt(key, at, DoubtKind::UnreachedCouplet, advice));
        }
        if key.couplets[at].leads.len() < 2 {
            let advice = format!("{} has a single lead; its rival may be lost or mislabelled", name(key, at));
            doubts.push(doubt(key, at, DoubtKind::LonelyLead, advice));
        }
        if let Some(raw) = raw {
            back_references(key, raw, (at, &arrivals), doubts);
        }
    }
    if let Some(raw) =
        raw.filter(|raw| raw.leads.first().is_some_and(|lead| lead.label.scheme != Scheme::Serial))
    {
        skipped(key, raw, doubts);
    }
    if let Some(way) = cycle(key) {
        let labels: Vec<String> = way.iter().map(|at| short(key, *at)).collect();
        let advice = format!(
            "the leads go round in a circle, by couplets {}; one of the targets on the way is wrong",
            labels.join(" → ")
        );
        doubts.push(doubt(key, way[0], DoubtKind::Cycle, advice));
    }
}

fn doubt(key: &Key, couplet: usize, kind: DoubtKind, advice: String) -> Doubt {
    let first = key.couplets.get(couplet).and_then(|couplet| couplet.leads.first());
    let page = first.map_or(key.page, |lead| lead.text.page());
    let text = first.map(|lead| lead.text.plain.clone()).unwrap_or_default();
    Doubt { kind, page, text, advice, about: DoubtAbout::Key(key.id) }
}

/// A couplet's label, or its place where none is printed.
fn short(key: &Key, at: usize) -> String {
    let label = key.couplets.get(at).map(|couplet| couplet.label.as_str()).unwrap_or_default();
    if label.is_empty() { format!("no. {}", at + 1) } else { label.to_owned() }
}

fn name(key: &Key, at: usize) -> String {
    format!("couplet {}", short(key, at))
}

/// A lead by its label where that is its own, else by its place: "2b", "the second lead of couplet 2".
fn lead_name(key: &Key, (couplet, nth): (usize, usize)) -> String {
    const PLACES: [&str; 4] = ["first", "second", "third", "fourth"];
    let leads = &key.couplets[couplet].leads;
    let label = leads[nth].label.as_deref().unwrap_or_default();
    let own = leads.iter().filter(|lead| lead.label.as_deref() == Some(label)).count() == 1
        && label.starts_with(|c: char| c.is_ascii_digit());
    if own {
        return format!("lead {label}");
    }
    let place = PLACES.get(nth).map_or_else(|| format!("{}th", nth + 1), |place| (*place).to_owned());
    format!("the {place} lead of {}", name(key, couplet))
}

/// For each couplet that leads arrive at, those leads: couplet and place.
type Arrivals = BTreeMap<usize, Vec<(usize, usize)>>;

fn arrivals(key: &Key) -> Arrivals {
    let mut arrivals = Arrivals::new();
    for (from, to) in arrows(key) {
        arrivals.entry(to).or_default().push(from);
    }
    arrivals
}

/// Every step from a lead (couplet, place) to a couplet.
fn arrows(key: &Key) -> impl Iterator<Item = ((usize, usize), usize)> + '_ {
    let targets = |lead: &crate::model::Lead| -> Vec<CoupletId> {
        std::iter::once(&lead.to)
            .chain(&lead.also)
            .filter_map(|target| match target {
                Target::Couplet(to) => Some(*to),
                Target::Taxon { .. } | Target::Key(_) | Target::Unresolved(_) => None,
            })
            .collect()
    };
    let of_couplet = move |(at, couplet): (usize, &Couplet)| {
        let leads = couplet.leads.iter().enumerate();
        leads
            .flat_map(|(nth, lead)| targets(lead).into_iter().map(move |to| ((at, nth), to.index())))
            .collect::<Vec<_>>()
    };
    key.couplets.iter().enumerate().flat_map(of_couplet)
}

/// Says why no lead may arrive at a couplet: its back reference, or a neighbour that two leads arrive at.
fn unreached(key: &Key, raw: Option<&RawKey>, arrivals: &Arrivals, at: usize) -> String {
    let mut advice = vec![format!("no lead arrives at {}", name(key, at))];
    let number = |at: usize| key.couplets.get(at)?.label.parse::<u32>().ok();
    let near =
        |other: usize| number(at).zip(number(other)).is_some_and(|(one, other)| one.abs_diff(other) == 1);
    let crowded = arrivals.iter().find(|(to, from)| near(**to) && from.len() > 1);
    let back = raw.map_or(&[][..], |raw| back_of(raw, at));
    if let Some(back) = back.first() {
        advice.push(format!("its back reference says it is reached from {back}"));
    }
    if let Some((to, from)) = crowded {
        let leads: Vec<String> = from.iter().map(|lead| lead_name(key, *lead)).collect();
        advice.push(format!(
            "{} is reached twice, by {}: one of them may be meant for {}",
            name(key, *to),
            leads.join(" and "),
            short(key, at)
        ));
    } else {
        advice.push("a target before it may be misprinted or misread".to_owned());
    }
    advice.join("; ")
}

/// The numbers in the back reference of a couplet; serial numbers are none.
fn back_of(raw: &RawKey, at: usize) -> &[u32] {
    raw.couplets
        .get(at)
        .and_then(|couplet| {
            couplet
                .leads
                .iter()
                .map(|lead| &raw.leads[*lead].label)
                .find(|label| !label.back.is_empty() && label.scheme != Scheme::Serial)
        })
        .map_or(&[], |label| label.back.as_slice())
}

fn back_references(key: &Key, raw: &RawKey, (at, arrivals): (usize, &Arrivals), doubts: &mut Vec<Doubt>) {
    let Some(from) = arrivals.get(&at) else { return };
    for back in back_of(raw, at) {
        let home = raw.couplets.iter().position(|couplet| couplet.series == Series::Number(*back));
        if !from.iter().any(|(couplet, _)| Some(*couplet) == home) {
            let leads: Vec<String> = from.iter().map(|lead| lead_name(key, *lead)).collect();
            let advice = format!(
                "{} says that it is reached from {back}, but what leads to it is {}; one of the two numbers is wrong",
                name(key, at),
                leads.join(" and ")
            );
            doubts.push(doubt(key, at, DoubtKind::OddLabel, advice));
        }
    }
}

/// Numbers that are left out, though others follow.
fn skipped(key: &Key, raw: &RawKey, doubts: &mut Vec<Doubt>) {
    let numbers: BTreeSet<u32> = raw
        .couplets
        .iter()
        .filter_map(|couplet| match couplet.series {
            Series::Number(number) => Some(number),
            Series::Letter(_) | Series::Bullet | Series::Dash => None,
        })
        .collect();
    if numbers.len() < raw.couplets.len() {
        return;
    }
    let ordered: Vec<u32> = numbers.into_iter().collect();
    for pair in ordered.windows(2).filter(|pair| pair[1] > pair[0] + 1) {
        let missing = pair[0] + 1;
        let at = raw.couplets.iter().position(|couplet| couplet.series == Series::Number(pair[1]));
        let which = if pair[1] == missing + 1 {
            format!("couplet {missing} is")
        } else {
            format!("couplets {missing} to {} are", pair[1] - 1)
        };
        let advice = format!(
            "the numbers go from {} to {}: {which} skipped in print, or not recognised",
            pair[0], pair[1]
        );
        doubts.push(doubt(key, at.unwrap_or(0), DoubtKind::OddLabel, advice));
    }
}

/// Finds a way that comes back to where it began; the first and last couplet are the same.
fn cycle(key: &Key) -> Option<Vec<usize>> {
    let mut onward: Vec<Vec<usize>> = vec![Vec::new(); key.couplets.len()];
    for ((from, _), to) in arrows(key).filter(|(_, to)| *to < key.couplets.len()) {
        onward[from].push(to);
    }
    // 0 unseen, 1 on the way, 2 done.
    let mut state = vec![0_u8; onward.len()];
    for start in 0..onward.len() {
        let mut way: Vec<(usize, usize)> = Vec::new();
        if state[start] == 0 {
            state[start] = 1;
            way.push((start, 0));
        }
        while let Some((at, next)) = way.last_mut() {
            let Some(to) = onward[*at].get(*next).copied() else {
                state[*at] = 2;
                way.pop();
                continue;
            };
            *next += 1;
            match state[to] {
                0 => {
                    state[to] = 1;
                    way.push((to, 0));
                }
                1 => {
                    let from = way.iter().position(|(couplet, _)| *couplet == to)?;
                    let round = way[from..].iter().map(|(couplet, _)| *couplet);
                    return Some(round.chain(std::iter::once(to)).collect());
                }
                _ => {}
            }
        }
    }
    None
}
