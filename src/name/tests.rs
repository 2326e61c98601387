//! The examples of the Code (S1), of Darwin Core (S2) and of the conventions N1–N17, each with its source beside it.

use super::*;
use crate::model::Rank;

/// Checks name, authorship, rank, and what stands behind them.
#[track_caller]
fn check(source: &str, text: &str, expected: (&str, Option<&str>, Rank), behind: &str) {
    let parsed = parse(text).unwrap_or_else(|| panic!("{source}: no name in {text}"));
    let found = (parsed.name.as_str(), parsed.authorship.as_deref(), parsed.rank);
    assert_eq!(found, expected, "{source}: {text}");
    assert_eq!(status(&text[parsed.end..]).words, behind, "{source}: {text}");
}

#[test]
fn names_of_the_code() {
    let species = |name, author| (name, Some(author), Rank::Species);
    check(
        "Art. 24",
        "Rosa gallica var. versicolor L.",
        ("Rosa gallica var. versicolor", Some("L."), Rank::Variety),
        "",
    );
    check(
        "Art. 26.1",
        "Rosa gallica L. var. gallica",
        ("Rosa gallica var. gallica", None, Rank::Variety),
        "",
    );
    check(
        "Art. 26.1, N6",
        "Lobelia spicata Lam. var. spicata",
        ("Lobelia spicata var. spicata", None, Rank::Variety),
        "",
    );
    check(
        "Art. 24.1",
        "Saxifraga aizoon var. aizoon subvar. brevifolia f. multicaulis subf. surculosa Engl. & Irmsch.",
        ("Saxifraga aizoon subf. surculosa", Some("Engl. & Irmsch."), Rank::Form),
        "",
    );
    check(
        "Art. 24",
        "Solanum melongena var. insanum (L.) Prain",
        ("Solanum melongena var. insanum", Some("(L.) Prain"), Rank::Variety),
        "",
    );
    check(
        "Art. 24",
        "Phlox pilosa subsp. ozarkana Wherry",
        ("Phlox pilosa subsp. ozarkana", Some("Wherry"), Rank::Subspecies),
        "",
    );
    check(
        "Art. 46",
        "Tilletia caries (DC.) Tul. & C. Tul.",
        species("Tilletia caries", "(DC.) Tul. & C. Tul."),
        "",
    );
    check(
        "Art. 46, N11",
        "Polypogon monspeliensis (L.) Desf.",
        species("Polypogon monspeliensis", "(L.) Desf."),
        "",
    );
}

#[test]
fn hybrids_of_the_code() {
    let hybrid = |name, author| (name, Some(author), Rank::Hybrid);
    let agropogon = ("×Agropogon littoralis", Some("(Sm.) C. E. Hubb."), Rank::Species);
    check("Art. H.3", "×Agropogon littoralis (Sm.) C. E. Hubb.", agropogon, "");
    check("Art. H.3", "Salix ×capreola Andersson", hybrid("Salix ×capreola", "Andersson"), "");
    check("Art. H.3", "Mentha ×smithiana R. A. Graham", hybrid("Mentha ×smithiana", "R. A. Graham"), "");
    for sign in ["× ", "x ", "X "] {
        let text = format!("Mentha {sign}smithiana R. A. Graham");
        check("Art. H.3A, N8", &text, hybrid("Mentha ×smithiana", "R. A. Graham"), "");
    }
    check(
        "Art. H.3",
        "Polypodium vulgare nothosubsp. mantoniae (Rothm.) Schidlay",
        ("Polypodium vulgare subsp. mantoniae", Some("(Rothm.) Schidlay"), Rank::Subspecies),
        "",
    );
    assert_eq!(fold("Mentha ×smithiana"), fold("Mentha smithiana"), "Art. H.3.3");
}

/// Checks the parents of a formula; a star stands behind one whose genus is not printed.
#[track_caller]
fn check_formula(source: &str, text: &str, expected: &[(&str, Option<&str>)]) {
    let parents = formula(text).unwrap_or_else(|| panic!("{source}: no formula in {text}"));
    let name = |parent: &Parent| format!("{}{}", parent.name, if parent.has_genus { "" } else { "*" });
    let found: Vec<(String, Option<&str>)> =
        parents.iter().map(|parent| (name(parent), parent.authorship.as_deref())).collect();
    let expected: Vec<(String, Option<&str>)> =
        expected.iter().map(|(name, author)| ((*name).to_owned(), *author)).collect();
    assert_eq!(found, expected, "{source}");
}

#[test]
fn formulas_of_the_code() {
    check_formula(
        "Art. H.2",
        "Agrostis stolonifera L. × Polypogon monspeliensis (L.) Desf.",
        &[("Agrostis stolonifera", Some("L.")), ("Polypogon monspeliensis", Some("(L.) Desf."))],
    );
    check_formula(
        "Art. H.2",
        "Mentha aquatica L. × M. arvensis L. × M. spicata L.",
        &[("Mentha aquatica", Some("L.")), ("Mentha arvensis", Some("L.")), ("Mentha spicata", Some("L."))],
    );
    check_formula(
        "Art. H.2 Ex. 2",
        "Kunzea linearis (Kirk) de Lange × robusta de Lange & Toelken",
        &[("Kunzea linearis", Some("(Kirk) de Lange")), ("Kunzea robusta*", Some("de Lange & Toelken"))],
    );
    check_formula(
        "N8",
        "Salix aurita L. × S. caprea L.",
        &[("Salix aurita", Some("L.")), ("Salix caprea", Some("L."))],
    );
    check_formula("N9", "Silene alta × nivea", &[("Silene alta", None), ("Silene nivea*", None)]);
    for named in ["Salix ×capreola Andersson", "Silene × brennii", "Silene alta L.", "Silene"] {
        assert_eq!(formula(named), None, "N9: {named}");
    }
}

#[test]
fn what_stands_behind_a_name_is_no_author() {
    let check_species = |source, text, name, author, behind| {
        check(source, text, (name, author, Rank::Species), behind);
    };
    check_species("Art. 50", "Ficus exasperata auct. non Vahl", "Ficus exasperata", None, "auct. non Vahl");
    check_species("S1", "F. exasperata auct. non Vahl", "F. exasperata", None, "auct. non Vahl");
    check_species(
        "Rec. 50C",
        "Ulmus racemosa Thomas, non Borkh. 1800",
        "Ulmus racemosa",
        Some("Thomas"),
        "non Borkh. 1800",
    );
    check_species("Rec. 50B", "Carex bebbii Olney, nom. nud.", "Carex bebbii", Some("Olney"), "nom. nud.");
    let protea = ("Protea", Some("L."), Rank::Genus);
    check("Rec. 50E", "Protea L., nom. cons., non L. 1753", protea, "nom. cons., non L. 1753");
    check_species("N13", "Silene alta sensu Smith", "Silene alta", None, "sensu Smith");
    check_species("N13", "Silene alta hort.", "Silene alta", None, "hort.");
    check_species("N13", "Silene alta Mor. s.l.", "Silene alta", Some("Mor."), "s.l.");
    check_species("N13", "Silene alta agg.", "Silene alta", None, "agg.");
    check_species("N12", "Silene alta Mor., sp. nov.", "Silene alta", Some("Mor."), "sp. nov.");
    check_species("N12", "Silene alta Mor., p.p.", "Silene alta", Some("Mor."), "p.p.");
    check_species("N12", "Silene alta Mor. emend. Tarn", "Silene alta", Some("Mor. emend. Tarn"), "");
    assert!(status(" auct. non Vahl").misapplied && !status(", nom. cons.").misapplied);
    assert_eq!(status(". Perennial herb"), Status::default());
}

#[test]
fn the_book_in_which_a_name_stands_is_no_part_of_its_author() {
    let species = |author| ("Silene alta", Some(author), Rank::Species);
    check("Art. 46.2, N11", "Silene alta Mor. in Tarn", species("Mor."), "");
    check("Art. 46.5, N11", "Silene alta Mor. ex Tarn", species("Mor. ex Tarn"), "");
    check("N11", "Silene alta (Mor. ex Tarn) Brenn", species("(Mor. ex Tarn) Brenn"), "");
}

#[test]
fn authors_of_every_form() {
    for author in [
        "DC.",
        "Hook.f.",
        "A.Gray",
        "St.-Hil.",
        "Buch.-Ham. ex D.Don",
        "L.f.",
        "L. f.",
        "Mor. & Tarn",
        "Mor. et al.",
        "de Lange",
        "van Royen",
        "von Mor.",
        "(L.) Hook. f. ex Benth. & Sm.",
    ] {
        check("N10", &format!("Silene alta {author}"), ("Silene alta", Some(author), Rank::Species), "");
    }
    check("N10", "Silene alta L. f. alba", ("Silene alta f. alba", None, Rank::Form), "");
    check("N10", "Silene alta f. alba Mor.", ("Silene alta f. alba", Some("Mor."), Rank::Form), "");
}

/// Checks what a qualified identification says.
#[track_caller]
fn check_doubt(source: &str, text: &str, name: &str, qualifier: Option<&str>) {
    let found = identified(text).unwrap_or_else(|| panic!("{source}: no name in {text}"));
    assert_eq!((found.name.name.as_str(), found.qualifier.as_deref()), (name, qualifier), "{source}: {text}");
}

#[test]
fn a_doubt_stands_outside_the_name_with_the_part_that_it_doubts() {
    let oak = "Quercus agrifolia var. oxyadenia";
    check_doubt("Darwin Core", "Quercus agrifolia cf. var. oxyadenia", oak, Some("cf. var. oxyadenia"));
    check_doubt(
        "Darwin Core",
        "Quercus aff. agrifolia var. oxyadenia",
        oak,
        Some("aff. agrifolia var. oxyadenia"),
    );
    check_doubt("N14", "Silene cf. alta", "Silene alta", Some("cf. alta"));
    check_doubt("N14", "cf. Silene alta", "Silene alta", Some("cf. Silene alta"));
    check_doubt("N14", "Silene alta?", "Silene alta", Some("? alta"));
    check_doubt("N14", "Silene sp.", "Silene", Some("sp."));
    check_doubt("N14", "Silene alta", "Silene alta", None);
}

#[test]
fn a_classification_is_not_the_name() {
    check(
        "Darwin Core, N5",
        "Indigofera charlieriana subsp. sessilis var. scaberrima",
        ("Indigofera charlieriana var. scaberrima", None, Rank::Variety),
        "",
    );
}

#[test]
fn conventions_of_books() {
    check("N1", "Magnolia Fraserii Walt.", ("Magnolia fraserii", Some("Walt."), Rank::Species), "");
    check("N1", "Pinus Banksiana Lamb.", ("Pinus banksiana", Some("Lamb."), Rank::Species), "");
    check(
        "N2",
        "Veronica anagallis-aquatica L.",
        ("Veronica anagallis-aquatica", Some("L."), Rank::Species),
        "",
    );
    check("N3", "Silenoideae Mor.", ("Silenoideae", Some("Mor."), Rank::Subfamily), "");
    check("N3", "Sileneae Mor.", ("Sileneae", Some("Mor."), Rank::Tribe), "");
    check("N3", "Compositae", ("Compositae", None, Rank::Family), "");
    check("N4", "Silene subgen. Alta", ("Silene subg. Alta", None, Rank::Subgenus), "");
    check("N4", "Silene subsect. Alta", ("Silene subsect. Alta", None, Rank::Section), "");
    check("N4", "Silene alta ssp. nivea", ("Silene alta subsp. nivea", None, Rank::Subspecies), "");
    check("N7", "P. nigra italica", ("P. nigra italica", None, Rank::Variety), "");
    check("N7", "Silene alta β nivea", ("Silene alta β nivea", None, Rank::Variety), "");
    check("N7", "Silene alta Var. nivea", ("Silene alta var. nivea", None, Rank::Variety), "");
    check("N15", "Isoëtes lacustris L.", ("Isoëtes lacustris", Some("L."), Rank::Species), "");
    check("N17", "Silene alta 'Nivea'", ("Silene alta", None, Rank::Species), "");
    check("N17", "+Silecarex adamii", ("+Silecarex adamii", None, Rank::Species), "");
    assert_eq!(other_family_names("COMPOSITAE"), ["Asteraceae"], "N3");
    assert_eq!(other_family_names("Fabaceae"), ["Leguminosae", "Papilionaceae"], "N3");
    assert_eq!(fold("Isoëtes"), fold("Isoetes"), "N15");
    assert_eq!(expand("S. rupicola", "Silene").as_deref(), Some("Silene rupicola"), "N16");
}
