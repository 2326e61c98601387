//! A profile through the binary: printed by `check`, handed back by `ingest --profile`, and refused with what is known.

use std::fs;

use crate::support::{Done, Home};

/// The demo flora's file.
const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/corpus-demo/flora.pdf");

fn ingest(home: &Home, profile: Option<&str>) -> Done {
    let mut args = vec!["ingest", DEMO, "--as", "isles"];
    let path = home.path().join("profile.toml");
    let path = path.to_string_lossy();
    if let Some(profile) = profile {
        fs::write(&*path, profile).expect("a folder for the test");
        args.extend(["--profile", &*path]);
    }
    home.run(&args)
}

/// Returns the profile that `check` prints.
#[track_caller]
fn printed(home: &Home) -> String {
    let check = home.run(&["check", "isles", "--json"]).out;
    let check: serde_json::Value = serde_json::from_str(&check).expect("it is JSON");
    check["profile"].as_str().expect("a profile").to_owned()
}

#[test]
fn the_printed_profile_can_be_changed_and_handed_back() {
    let home = Home::new();
    assert_eq!(ingest(&home, None).code, 0);
    let learned = printed(&home);
    let dump = home.run(&["dump", "isles"]).out;
    assert!(
        learned.contains("body-size = ") && learned.contains("[headings]") && learned.contains("[keys]"),
        "{learned}"
    );
    assert_eq!(ingest(&home, Some(&learned)).code, 0);
    assert_eq!(printed(&home), learned);
    assert!(home.run(&["dump", "isles"]).out == dump, "a profile that says nothing new changed the reading");
    let changed = "[run-in]\n\"Habitat\" = \"notes\"\n";
    assert_eq!(ingest(&home, Some(changed)).code, 0);
    assert!(
        printed(&home).contains("Habitat = \"notes\"") || printed(&home).contains("\"Habitat\" = \"notes\"")
    );
}

#[test]
fn a_profile_with_an_unknown_entry_is_a_wrong_call() {
    let done = ingest(&Home::new(), Some("size = 9"));
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(
        done.err.contains("unknown field `size`, expected one of `body-size`, `indent-steps`"),
        "{}",
        done.err
    );
}
