//! Several files, one flora: keys of the first volume lead to treatments of the second, and pages count on.

use std::path::PathBuf;
use std::process::Command;

use serde_json::Value;

use crate::support::{Home, skip};

/// The demo flora's file.
const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/corpus-demo/flora.pdf");

/// The last page of the first volume: the key to the families stands before it, most treatments behind.
const CUT: u32 = 10;

/// Cuts the demo flora in two; `None` where there is no tool for it.
fn volumes(home: &Home) -> Option<[PathBuf; 2]> {
    let cut = |name: &str, pages: &str| {
        let path = home.path().join(name);
        let done =
            Command::new("qpdf").args([DEMO, "--pages", DEMO, pages, "--"]).arg(&path).status().ok()?;
        done.success().then_some(path)
    };
    Some([cut("one.pdf", &format!("1-{CUT}"))?, cut("two.pdf", &format!("{}-z", CUT + 1))?])
}

#[track_caller]
fn dump(home: &Home, files: &[&str], name: &str) -> Value {
    let done = home.run(&[&["ingest"], files, &["--as", name]].concat());
    assert_eq!(done.code, 0, "{done:?}");
    serde_json::from_str(&home.run(&["dump", name]).out).expect("a dump is JSON")
}

#[test]
fn two_volumes_are_one_flora_with_keys_that_lead_across() {
    let test = "two_volumes_are_one_flora_with_keys_that_lead_across";
    let home = Home::new();
    let Some([one, two]) = volumes(&home) else { return skip(test, "qpdf is not installed") };
    let whole = dump(&home, &[DEMO], "whole");
    let cut = dump(&home, &[&one.to_string_lossy(), &two.to_string_lossy()], "cut");
    assert!(whole["flora"].get("sources").is_none());
    let sources = cut["flora"]["sources"].as_array().expect("several files are listed");
    let files: Vec<&str> = sources.iter().filter_map(|source| source["file"].as_str()).collect();
    assert_eq!(files, ["one.pdf", "two.pdf"]);
    assert_eq!(cut["flora"]["source"], sources[0]);
    assert_eq!(sources[0]["pages"], CUT);
    for list in ["keys", "taxa", "glossary", "legend"] {
        assert_eq!(cut[list], whole[list], "{list}");
    }
    let leads = cut["keys"].as_array().into_iter().flatten().flat_map(|key| {
        let couplets = key["couplets"].as_array().into_iter().flatten();
        couplets.flat_map(|couplet| couplet["leads"].as_array().into_iter().flatten())
    });
    let page = |id: &Value| {
        let taxa = cut["taxa"].as_array().into_iter().flatten();
        taxa.filter(|taxon| taxon["id"] == *id).find_map(|taxon| taxon["pages"][0].as_u64())
    };
    let across = leads.filter(|lead| {
        lead["page"].as_u64() <= Some(u64::from(CUT))
            && page(&lead["to"]["id"]).is_some_and(|page| page > u64::from(CUT))
    });
    assert!(across.count() > 0, "no lead of the first volume leads into the second");
}
