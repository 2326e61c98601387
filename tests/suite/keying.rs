//! Keying over whole floras: the graph agrees with the keys, every taxon is reached by its route, random walks keep no
//! taxon from being possible that nobody excluded.

use std::collections::BTreeSet;
use std::path::Path;

use ligule::ingest::{self, SourceFile};
use ligule::keying::{Decided, Decision, End, EndId, Graph, Plant, Printed, Spot, Step, Sureness};
use ligule::model::{Flora, Target, TaxonId};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use crate::support::{shared, skip};

/// Walks that are taken through each flora; the issue asks for 10,000 over three.
const WALKS: usize = 3_400;

/// Decisions of a walk at most.
const LONGEST_WALK: usize = 24;

/// Reads a flora of the project or of the reading matter, and hands it to a check with its graph.
#[track_caller]
fn with_flora(file: &str, check: impl Fn(&Flora, &Graph)) {
    let path = match file.strip_prefix("corpus-demo/") {
        Some(_) => Some(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)),
        None => shared(file),
    };
    let Some(path) = path else {
        return skip(file, "the reading matter is not beside the project, in ../shared");
    };
    let bytes = std::fs::read(&path).expect("the flora's file");
    let (flora, _) = ingest::read(vec![SourceFile { name: file.to_owned(), bytes }], &|_, _| ())
        .expect("a flora that can be read");
    let graph = Graph::of(flora.keys.iter().map(Some));
    check(&flora, &graph);
}

/// Checks that what a lead reaches in the graph is what the reading of the book counted.
fn check_counts(flora: &Flora, graph: &Graph) {
    for spot in graph.spots() {
        let key = &flora.keys[spot.key.index()];
        for (lead, printed) in key.couplets[spot.couplet.index()].leads.iter().enumerate() {
            assert_eq!(graph.below(spot, lead).len() as u32, printed.reaches, "{spot:?} lead {lead}");
        }
    }
}

/// Checks that following each route of each taxon ends at it, and that every lead that names a taxon ends one of its routes.
fn check_routes(flora: &Flora, graph: &Graph) {
    let starts: BTreeSet<Spot> = graph.starts().into_iter().collect();
    let mut reached = 0;
    for taxon in &flora.taxa {
        let routes = graph.routes(taxon.id);
        for route in &routes.routes {
            assert!(starts.contains(&route[0].spot), "{} starts in the middle", taxon.name);
            for pair in route.windows(2) {
                let steps = graph.steps(pair[0].spot, pair[0].lead);
                assert!(steps.contains(&Step::Couplet(pair[1].spot)), "{}: a gap in its route", taxon.name);
            }
            let last = route[route.len() - 1];
            assert!(graph.names(last.spot, last.lead).contains(&taxon.id), "{}: another end", taxon.name);
        }
        reached += usize::from(!routes.routes.is_empty());
        let named = named_by(flora, taxon.id);
        let ends: BTreeSet<(Spot, usize)> = routes
            .routes
            .iter()
            .filter_map(|route| route.last())
            .map(|turn| (turn.spot, turn.lead))
            .collect();
        if !routes.more
            && named.iter().all(|(spot, _)| starts.iter().any(|start| graph.leads_to(*start, *spot)))
        {
            assert_eq!(ends, named, "{}: route and graph differ", taxon.name);
        }
    }
    assert!(reached * 10 >= flora.taxa.len() * 8, "only {reached} of {} taxa have a route", flora.taxa.len());
}

/// Returns the leads that name a taxon or the key of its members, read from the flora itself.
fn named_by(flora: &Flora, taxon: TaxonId) -> BTreeSet<(Spot, usize)> {
    let names = |target: &Target| match target {
        Target::Taxon { id, .. } => *id == Some(taxon),
        Target::Key(key) => flora.keys[key.index()].scope_id == Some(taxon),
        Target::Couplet(_) | Target::Unresolved(_) => false,
    };
    let mut found = BTreeSet::new();
    for key in &flora.keys {
        for (at, couplet) in key.couplets.iter().enumerate() {
            let spot = Spot { key: key.id, couplet: ligule::model::CoupletId(at as u32) };
            for (number, lead) in couplet.leads.iter().enumerate() {
                if std::iter::once(&lead.to).chain(&lead.also).any(names) {
                    found.insert((spot, number));
                }
            }
        }
    }
    found
}

/// What is possible, told the long way: the end points of every path that no decision closes.
fn possible_by_paths(graph: &Graph, plant: &Plant, from: Spot, on_path: &mut Vec<Spot>) -> BTreeSet<EndId> {
    let mut ends = BTreeSet::new();
    if on_path.contains(&from) {
        return ends;
    }
    on_path.push(from);
    for lead in 0..graph.leads(from) {
        let decision = plant.branch().decisions.iter().find(|decision| decision.spot == from);
        if decision.is_some_and(|decision| !decision.kept.contains(&lead)) {
            continue;
        }
        for step in graph.steps(from, lead) {
            match step {
                Step::End(end) => _ = ends.insert(*end),
                Step::Couplet(next) => ends.extend(possible_by_paths(graph, plant, *next, on_path)),
            }
        }
    }
    on_path.pop();
    ends
}

/// Walks at random from a start, and compares what is possible after every decision.
fn check_walks(_: &Flora, graph: &Graph) {
    let seed = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let mut runner = TestRunner::new_with_rng(Config::default(), seed);
    let draw = |runner: &mut TestRunner, below: usize| {
        (0..below.max(1)).new_tree(runner).expect("a number").current()
    };
    let starts = graph.starts();
    for walk in 0..WALKS {
        let root = starts[draw(&mut runner, starts.len())];
        let (mut plant, mut at) = (Plant::new("walk"), root);
        for _ in 0..LONGEST_WALK {
            let leads = graph.leads(at);
            let (lead, open) = (draw(&mut runner, leads), draw(&mut runner, 6) == 0);
            let kept: BTreeSet<usize> = if open { (0..leads).collect() } else { [lead].into() };
            let before = plant.branch().possible(graph);
            let decided = plant.decide(decision(at, &kept));
            assert_eq!(decided, Decided::First, "walk {walk} came to a couplet twice");
            let after = plant.branch().possible(graph);
            if plant.branch().decisions.len() > 1 {
                assert!(after.is_subset(&before), "walk {walk}: a decision made more possible");
            }
            assert!(
                !open || after == before || plant.branch().decisions.len() == 1,
                "walk {walk}: keeping all open took a taxon"
            );
            let next = plant.branch().waiting(graph);
            let Some(spot) = next.get(draw(&mut runner, next.len())) else { break };
            at = *spot;
        }
        if walk % 10 == 0 {
            let plain = possible_by_paths(graph, &plant, root, &mut Vec::new());
            assert_eq!(plant.branch().possible(graph), plain, "walk {walk}");
        }
        assert!(plant.branch().possible(graph).iter().all(|end| named(graph, *end)));
    }
}

fn named(graph: &Graph, end: EndId) -> bool {
    match graph.end(end) {
        Some(End::Treated(_)) => true,
        Some(End::Named(name)) => !name.is_empty(),
        None => false,
    }
}

fn decision(spot: Spot, kept: &BTreeSet<usize>) -> Decision {
    Decision {
        spot,
        kept: kept.clone(),
        sureness: Sureness::Sure,
        note: String::new(),
        time: 0,
        printed: Printed::default(),
        lost: false,
    }
}

/// The floras walked through: the demo, one with bracketed and one with indented keys.
const FLORAS: [&str; 3] =
    ["corpus-demo/flora.pdf", "reference/sim/alder/flora.pdf", "reference/sim/moss/flora.pdf"];

#[test]
fn a_lead_reaches_in_the_graph_what_was_counted_in_the_book() {
    for file in FLORAS {
        with_flora(file, check_counts);
    }
}

#[test]
fn every_taxon_is_reached_by_following_its_route_and_route_and_graph_agree() {
    for file in FLORAS {
        with_flora(file, check_routes);
    }
}

#[test]
fn no_taxon_falls_out_that_nobody_excluded() {
    for file in FLORAS {
        with_flora(file, check_walks);
    }
}
