//! Keys of every layout, typeset: small floras under tests/fixtures/floras in, every lead with its label, characters and
//! target out, as their source says. How they are set is told in `layouts.py` there.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::Path;

use ligule::ingest::{self, SourceFile};
use ligule::model::{Flora, Target};

/// Reads a small flora and compares its keys with what its source says.
#[track_caller]
fn check_layout(layout: &str, style: &str) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/floras").join(layout);
    let bytes = fs::read(folder.join("flora.pdf")).expect("the fixture is part of the project");
    let file = SourceFile { name: "flora.pdf".to_owned(), bytes };
    let (flora, report) = ingest::read(vec![file], &|_, _| {}).expect("a PDF");
    let expected = fs::read_to_string(folder.join("keys.txt")).expect("the fixture is part of the project");
    assert_eq!(outline(&flora), expected, "{layout}");
    let profile = report.profile.to_string();
    assert!(profile.contains(&format!("\"{style}\"")), "{layout}: no {style} in\n{profile}");
    let doubts: BTreeMap<&str, &str> =
        flora.doubts.iter().map(|doubt| (doubt.kind.word(), doubt.text.as_str())).collect();
    assert_eq!(doubts, BTreeMap::new(), "{layout}");
}

fn outline(flora: &Flora) -> String {
    let mut text = String::new();
    for key in &flora.keys {
        let (title, scope) = (key.title.as_deref().unwrap_or("-"), key.scope.as_deref().unwrap_or("-"));
        let _ = writeln!(text, "key {title} of {scope}");
        for (at, couplet) in key.couplets.iter().enumerate() {
            for lead in &couplet.leads {
                let target = match &lead.to {
                    Target::Couplet(couplet) => format!("couplet {}", couplet.0),
                    Target::Taxon { name, id: Some(_) } => name.clone(),
                    other => format!("{other:?}"),
                };
                let label = lead.label.as_deref().unwrap_or("-");
                let _ = writeln!(text, "  {at} {label} | {} | {target}", lead.text.plain);
            }
        }
    }
    text
}

#[test]
fn a_serial_key_is_read_whole() {
    check_layout("serial", "serial-number");
}

#[test]
fn a_key_whose_letters_jump_is_read_whole() {
    check_layout("jump", "jumping-letter");
}

#[test]
fn a_key_by_depth_alone_is_read_whole() {
    check_layout("unlabelled", "outline");
}

#[test]
fn a_coded_synopsis_is_read_whole() {
    check_layout("synopsis", "code");
}

#[test]
fn a_key_lettered_by_depth_but_set_flush_left_is_read_whole() {
    check_layout("flush", "indented");
}
