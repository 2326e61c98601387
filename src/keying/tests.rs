//! Keying on a small graph: two keys, a taxon that keys out twice, and a cycle.

use std::collections::BTreeSet;

use crate::keying::{Branch, Decided, Decision, End, EndId, Graph, Plant, Printed, Spot, Step, Sureness};
use crate::model::{Alternatives, Couplet, CoupletId, Key, KeyId, Lead, Page, Target, TaxonId, Text};

/// A target as the tests write it: `=2` couplet 2, `k1` key 1, `t7` a treated taxon, anything else a name.
fn target(words: &str) -> Target {
    let number = |from: usize| words[from..].parse::<u32>().ok();
    match (words.chars().next(), number(1)) {
        (Some('='), Some(couplet)) => Target::Couplet(CoupletId(couplet)),
        (Some('k'), Some(key)) => Target::Key(KeyId(key)),
        (Some('t'), Some(id)) => Target::Taxon { name: format!("taxon {id}"), id: Some(TaxonId(id)) },
        _ => Target::Taxon { name: words.to_owned(), id: None },
    }
}

/// A key as the tests write it: couplets parted by `/`, leads by blanks, several targets by `+`.
fn key(id: u32, scope: Option<u32>, words: &str) -> Key {
    let lead = |words: &str| {
        let mut targets = words.split('+').map(target);
        Lead {
            label: None,
            text: Text::plain("words", Page(1)),
            printed: String::new(),
            to: targets.next().expect("a target"),
            also: targets.collect(),
            cites: None,
            reaches: 0,
            amended: false,
        }
    };
    let couplets = words.split(" / ").enumerate();
    Key {
        id: KeyId(id),
        title: None,
        scope: None,
        scope_id: scope.map(TaxonId),
        page: Page(1),
        couplets: couplets
            .map(|(at, leads)| Couplet {
                label: (at + 1).to_string(),
                leads: leads.split(' ').map(lead).collect(),
            })
            .collect(),
    }
}

/// Families to genera: couplet 3 is reached twice, genus 9 has a key of its own.
fn graph() -> Graph {
    let keys = [key(0, None, "=1 =2 / t1 =2 / t9 t2+alien"), key(1, Some(9), "t3 =1 / t4 t1")];
    Graph::of(keys.iter().map(Some))
}

fn spot(key: u32, couplet: u32) -> Spot {
    Spot { key: KeyId(key), couplet: CoupletId(couplet) }
}

fn decision(at: Spot, kept: &[usize]) -> Decision {
    Decision {
        spot: at,
        kept: kept.iter().copied().collect(),
        sureness: Sureness::Sure,
        note: String::new(),
        time: 0,
        printed: Printed::default(),
        lost: false,
    }
}

fn names(graph: &Graph, ends: &BTreeSet<EndId>) -> Vec<String> {
    let name = |end: &EndId| match graph.end(*end).expect("an end of this graph") {
        End::Treated(id) => format!("t{}", id.0),
        End::Named(name) => name.clone(),
    };
    let mut names: Vec<String> = ends.iter().map(name).collect();
    names.sort();
    names
}

#[track_caller]
fn check_possible(decisions: &[(Spot, &[usize])], possible: &str, waiting: &[Spot]) {
    let graph = graph();
    let mut plant = Plant::new("plant 1");
    for (spot, kept) in decisions {
        plant.decide(decision(*spot, kept));
    }
    assert_eq!(names(&graph, &plant.branch().possible(&graph)).join(" "), possible);
    assert_eq!(plant.branch().waiting(&graph), waiting);
}

#[test]
fn before_any_decision_every_end_is_possible() {
    check_possible(&[], "alien t1 t2 t3 t4", &[]);
}

#[test]
fn a_lead_taken_leaves_what_lies_below_it() {
    check_possible(&[(spot(0, 0), &[1])], "alien t1 t2 t3 t4", &[spot(0, 2)]);
    check_possible(&[(spot(0, 0), &[1]), (spot(0, 2), &[1])], "alien t2", &[]);
}

#[test]
fn what_can_not_be_told_keeps_both_sides() {
    let both = [(spot(0, 0), &[0, 1][..]), (spot(0, 2), &[1])];
    check_possible(&both, "alien t1 t2", &[spot(0, 1)]);
}

#[test]
fn a_plant_keyed_from_a_genus_starts_there() {
    check_possible(&[(spot(1, 0), &[1])], "t1 t4", &[spot(1, 1)]);
}

#[test]
fn a_taxon_with_a_key_goes_on_in_it() {
    let graph = graph();
    assert_eq!(graph.steps(spot(0, 2), 0), [Step::Couplet(spot(1, 0))]);
    assert_eq!(names(&graph, &graph.below(spot(0, 2), 0)), ["t1", "t3", "t4"]);
}

#[test]
fn a_cycle_hangs_nothing() {
    let keys = [key(0, None, "=1 t1 / =0 t2")];
    let graph = Graph::of(keys.iter().map(Some));
    assert_eq!(names(&graph, &graph.below(spot(0, 0), 0)), ["t1", "t2"]);
    assert_eq!(graph.routes(TaxonId(2)).routes.len(), 0, "a cycle has no start");
}

#[test]
fn a_taxon_that_keys_out_twice_has_all_its_routes() {
    let graph = graph();
    let routes = graph.routes(TaxonId(1));
    let steps: Vec<String> = routes
        .routes
        .iter()
        .map(|route| {
            let turns =
                route.iter().map(|turn| format!("{}.{}.{}", turn.spot.key.0, turn.spot.couplet.0, turn.lead));
            turns.collect::<Vec<_>>().join(" ")
        })
        .collect();
    assert_eq!(steps, ["0.0.0 0.1.0", "0.0.0 0.1.1 0.2.0 1.0.1 1.1.1", "0.0.1 0.2.0 1.0.1 1.1.1"]);
}

#[test]
fn the_couplet_that_tells_two_taxa_apart_is_found() {
    let graph = graph();
    let end = |id| graph.end_of(TaxonId(id)).expect("an end");
    assert_eq!(graph.tell_apart(end(3), end(4)), [spot(1, 0)]);
    assert_eq!(graph.tell_apart(end(2), end(3)), [spot(0, 2)]);
}

#[test]
fn a_changed_answer_keeps_the_branch_before() {
    let mut plant = Plant::new("plant 1");
    assert_eq!(plant.decide(decision(spot(0, 0), &[0])), Decided::First);
    assert_eq!(plant.decide(decision(spot(0, 1), &[0])), Decided::First);
    assert_eq!(plant.decide(decision(spot(0, 0), &[0])), Decided::Again);
    let before = plant.branch().clone();
    assert_eq!(plant.decide(decision(spot(0, 0), &[1])), Decided::Branched);
    assert_eq!(plant.branches[0], before);
    assert_eq!(plant.branch().decisions.len(), 2, "later decisions are kept");
    assert_eq!(plant.at, 1);
}

#[test]
fn an_answer_given_before_takes_its_branch_up_again() {
    let mut plant = Plant::new("by the mill");
    for (at, kept) in [(0, 0), (1, 0)] {
        plant.decide(decision(spot(0, at), &[kept]));
    }
    assert_eq!(plant.decide(decision(spot(0, 1), &[1])), Decided::Branched);
    assert_eq!(plant.decide(decision(spot(0, 1), &[0])), Decided::TakenUp);
    assert_eq!((plant.at, plant.branches.len()), (0, 2));
    // One that was given up stays given up.
    plant.drop_branch("fruit winged");
    assert_eq!(plant.at, 1);
    assert_eq!(plant.decide(decision(spot(0, 1), &[0])), Decided::Branched);
}

#[test]
fn a_branch_given_up_stays_with_its_reason() {
    let mut plant = Plant::new("plant 1");
    plant.decide(decision(spot(0, 0), &[0]));
    plant.decide(decision(spot(0, 0), &[1]));
    plant.drop_branch("fruit winged");
    assert_eq!(plant.at, 0);
    assert_eq!(plant.branches[1].dropped.as_deref(), Some("fruit winged"));
    assert_eq!(names(&graph(), &plant.possible(&graph())).join(" "), "alien t1 t2 t3 t4");
}

#[test]
fn doubtful_decisions_come_first_the_latest_before_the_earlier() {
    let mut plant = Plant::new("plant 1");
    for (couplet, sureness) in
        [Sureness::Doubtful, Sureness::Sure, Sureness::CannotTell, Sureness::Doubtful].into_iter().enumerate()
    {
        plant.decide(Decision { sureness, ..decision(spot(0, couplet as u32), &[0]) });
    }
    assert_eq!(plant.branch().doubted(), [3, 0, 2, 1]);
    assert_eq!(Branch::default().doubted(), [0; 0]);
}

#[test]
fn of_two_keys_to_the_same_taxa_one_is_enough() {
    let keys = [key(0, None, "t9 t1"), key(1, Some(9), "t2 t3 t4"), key(2, Some(9), "t2+t3 =1 / t4 t5")];
    let alternatives = [Alternatives { keys: vec![(KeyId(1), None), (KeyId(2), None)] }];
    let graph = Graph::of(keys.iter().map(Some)).with_alternatives(&alternatives);
    let mut plant = Plant::new("plant");
    plant.decide(decision(spot(0, 0), &[0]));
    assert_eq!(plant.branch().waiting(&graph), [spot(1, 0), spot(2, 0)]);
    plant.decide(decision(spot(1, 0), &[1]));
    assert_eq!(plant.branch().waiting(&graph), [], "the other key need not be gone through");
    let ends: Vec<&End> = plant.branch().possible(&graph).iter().filter_map(|end| graph.end(*end)).collect();
    assert!(ends.contains(&&End::Treated(TaxonId(3))), "{ends:?}");
    assert!(ends.contains(&&End::Treated(TaxonId(5))), "the key taken does not know it: {ends:?}");
    assert_eq!(ends.len(), 2, "{ends:?}");
}
