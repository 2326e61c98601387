//! Files written in ways that are allowed but rare: each is read as a plain one would be.

use std::sync::Arc;

use lopdf::encryption::crypt_filters::{Aes128CryptFilter, Aes256CryptFilter, CryptFilter};
use lopdf::{Document as File, EncryptionState, EncryptionVersion, Permissions};

use super::*;

fn written(content: &str, others: &[&str]) -> String {
    String::from_utf8(file(content, SERIF, others)).expect("the file is written in plain letters")
}

/// Checks a page that says `sedge` from 60, 50 on when something in its file is written otherwise.
#[track_caller]
fn check_page(from: &str, to: &str, place: (f32, f32), size: (f32, f32)) {
    let content = "BT /F 10 Tf 60 50 Td (sedge)Tj ET BT /F 10 Tf 5 5 Td (off)Tj ET";
    let whole = written(content, &[]).replace(from, to);
    let page = one_page(whole.into_bytes());
    assert_eq!((text(&page).as_str(), page.size), ("sedge", size));
    let span = &page.spans[0];
    assert_eq!((page.glyphs[0].x, span.y, span.turn), (place.0, place.1, span.turn), "turn {}", span.turn);
}

#[test]
fn a_page_is_cut_and_turned_as_it_says() {
    let box_of = |said: &str| ["/Type/Page/CropBox[50 40 150 90]", said, "/"].concat();
    let page = "/Type/Page/";
    check_page(page, &box_of(""), (10.0, 40.0), (100.0, 50.0));
    check_page(page, &box_of("/UserUnit 2"), (10.0, 40.0), (100.0, 50.0));
    check_page(page, &box_of("/Rotate 90"), (10.0, 40.0), (50.0, 100.0));
    check_page(page, &box_of("/Rotate -180"), (10.0, 40.0), (100.0, 50.0));
    // A page without extent has the usual one.
    let none = "/MediaBox[0 0 0 0]/CropBox[50 40 612 792]";
    check_page("/MediaBox[0 0 200 100]", none, (10.0, 742.0), (562.0, 752.0));
    check_page(page, &box_of("/Rotate 630"), (10.0, 40.0), (50.0, 100.0));
}

#[test]
fn what_a_page_leaves_out_comes_from_the_nodes_above_it() {
    let whole = written("BT /F 10 Tf 10 50 Td (sedge)Tj ET", &[]);
    let own = ["/MediaBox[0 0 200 100]", "/Resources<</Font<<", SERIF, ">>/XObject<</X 10 0 R>>>>"].concat();
    let own_at = whole.find("/Resources").expect("the page has resources");
    let end = whole[own_at..].find(">>>>>>").expect("they end") + own_at + 4;
    let bare = [&whole[..own_at], &whole[end..]].concat().replace("/MediaBox[0 0 200 100]", "");
    let page = one_page(bare.replace("/Type/Pages", &["/Type/Pages", &own].concat()).into_bytes());
    assert_eq!((text(&page).as_str(), page.size), ("sedge", (200.0, 100.0)));
}

#[test]
fn pages_without_content_are_empty() {
    let whole = written(
        "BT /F 10 Tf 10 50 Td (sedge)Tj ET",
        &["<</Type/Page/Parent 2 0 R>>", "<</Type/Page/Contents[]>>"],
    );
    let whole = whole.replace("/Kids[3 0 R]/Count 1", "/Kids[10 0 R 3 0 R 11 0 R]/Count 3");
    let pages = read(whole.into_bytes(), &|_, _| {}).expect("the file is sound").pages;
    let said: Vec<String> = pages.iter().map(text).collect();
    assert_eq!(said, ["", "sedge", ""]);
    assert!(pages.iter().all(|page| page.lost.is_none()));
}

/// Checks content that is cut into several streams.
#[track_caller]
fn check_parts(parts: [&str; 2], expected: &str) {
    let parts = parts.map(|part| format!("<</Length {}>>stream\n{part}\nendstream", part.len() + 1));
    let whole = written("", &["null", &parts[0], &parts[1]]);
    let whole = whole.replace("/Contents 4 0 R", "/Contents[11 0 R 12 0 R]");
    assert_eq!(text(&one_page(whole.into_bytes())), expected);
}

#[test]
fn content_in_several_streams_is_one() {
    check_parts(["BT /F 10 Tf 10 50", "Td (sedge)Tj ET"], "sedge");
    check_parts(["BT /F 10 Tf 10 50 Td [(sed)", "-20(ge)]TJ ET"], "sedge");
    check_parts(["q BT /F 10 Tf 10 50 Td (sed)Tj ET", "Q BT /F 10 Tf 60 50 Td (ge)Tj ET"], "sedge");
}

#[test]
fn numbers_beyond_all_measure_lose_only_what_they_put_off_the_page() {
    let kerns =
        "BT /F 10 Tf 10 50 Td [(a)-1e9(b)]TJ [(c)99999999999999999999999999999999999999999999(d)]TJ ET";
    check_text(&[kerns, " BT /F 10 Tf 10 50 Td (e)Tj ET"].concat(), SERIF, &[], "ae");
    check_text("BT /F 10 Tf 10 50 Td [(a)-99999999(b)99999999(c)]TJ ET", SERIF, &[], "ac");
}

/// Codes of two bytes take no word spacing, but all other parameters hold.
#[test]
fn text_state_holds_for_codes_of_two_bytes() {
    let font = "/F<</Type/Font/Subtype/Type0/BaseFont/X/Encoding/UniXX-UCS2-H/DescendantFonts[11 0 R]>>";
    let descendant = "<</Type/Font/Subtype/CIDFontType2/BaseFont/X/DW 500>>";
    let content = "BT /F 10 Tf 50 Tz 20 Tw 2 Tc 3 Ts 10 50 Td <004100200042>Tj ET";
    let page = one_page(file(content, font, &["null", descendant]));
    let places: Vec<f32> = page.glyphs.iter().map(|glyph| glyph.x).collect();
    assert_eq!((text(&page).as_str(), places, page.spans[0].y), ("A B", vec![10.0, 13.5, 17.0], 47.0));
}

#[test]
fn forms_within_forms_are_read_where_they_stand() {
    let form = |word: &str, inner: &str| {
        let content = format!("BT /F 10 Tf 10 0 Td ({word})Tj ET 1 0 0 1 20 10 cm /X Do");
        let resources = format!("/Resources<</Font<<{SERIF}>>/XObject<</X {inner}>>>>");
        let said = format!("/Subtype/Form/BBox[0 -50 200 100]/Matrix[1 0 0 1 5 5]{resources}");
        format!("<<{said}/Length {}>>stream\n{content}\nendstream", content.len())
    };
    let forms = [form("b", "11 0 R"), form("c", "12 0 R"), form("d", "13 0 R")];
    let page =
        one_page(file("BT /F 10 Tf 10 20 Td (a)Tj ET /X Do", SERIF, &forms.each_ref().map(String::as_str)));
    let places: Vec<(f32, f32)> =
        page.spans.iter().map(|span| (page.glyphs[span.glyphs.start as usize].x, span.y)).collect();
    assert_eq!(
        (text(&page).as_str(), places),
        ("abcd", vec![(10.0, 80.0), (15.0, 95.0), (40.0, 80.0), (65.0, 65.0)])
    );
}

#[test]
fn a_name_may_be_written_in_digits() {
    check_text("BT /#46 10 Tf 10 50 Td (sedge)Tj ET", SERIF, &[], "sedge");
}

#[test]
fn what_follows_an_inline_image_is_read() {
    check_text("BI /W 2 /H 1 /BPC 8 /CS /G ID xyEI BT /F 10 Tf 10 50 Td (sedge)Tj ET", SERIF, &[], "sedge");
}

#[test]
fn actual_text_of_two_bytes_is_spelled_out() {
    let content =
        |text: &str| format!("BT /F 10 Tf 10 50 Td /Span<</ActualText<{text}>>>BDC (xx)Tj EMC ( end)Tj ET");
    check_text(&content("FEFF2640FB01D835DC00"), SERIF, &[], "♀fi𝐀 end");
    check_text(&content("FEFF"), SERIF, &[], " end");
    check_text(&content("FFFE4026"), SERIF, &[], "♀ end");
}

/// Checks whether text is shown that belongs to an expression of two layers, the first of which is off.
#[track_caller]
fn check_layers(expression: &str, expected: &str) {
    let group = ["<</Type/OCMD/VE", expression, ">>"].concat();
    let layer = "<</Type/OCG/Name(x)>>";
    let content = "/OC /L BDC BT /F 10 Tf 10 50 Td (maybe)Tj ET EMC BT /F 10 Tf 10 20 Td (seen)Tj ET";
    let off = "/Type/Catalog/OCProperties<</OCGs[11 0 R 12 0 R]/D<</OFF[11 0 R]>>>>";
    let whole = written(content, &["null", layer, layer, &group]).replace("/Type/Catalog", off);
    let whole = whole.replace("/XObject<<", "/Properties<</L 13 0 R>>/XObject<<");
    assert_eq!(text(&one_page(whole.into_bytes())), expected, "{expression}");
}

#[test]
fn an_expression_of_layers_says_what_is_shown() {
    check_layers("[/And 11 0 R 12 0 R]", "seen");
    check_layers("[/Or 11 0 R 12 0 R]", "maybeseen");
    check_layers("[/Not 11 0 R]", "maybeseen");
    check_layers("[/Not[/Or[/Not 12 0 R]11 0 R]]", "maybeseen");
    check_layers("[/And 13 0 R 12 0 R]", "maybeseen");
}

/// Adds objects to a file, as a program does that changes it without writing it anew.
fn updated(mut bytes: Vec<u8>, objects: &[(u32, &str)]) -> Vec<u8> {
    let end = String::from_utf8_lossy(&bytes).rfind("startxref").expect("the file has a table");
    let before =
        String::from_utf8_lossy(&bytes[end + 10..]).lines().next().expect("it has a place").to_owned();
    let mut table = String::from("xref\n");
    for (number, object) in objects {
        write!(table, "{number} 1\n{:010} 00000 n \n", bytes.len()).expect("a string takes all");
        bytes.extend_from_slice(format!("{number} 0 obj\n{object}\nendobj\n").as_bytes());
    }
    let trailer =
        format!("trailer<</Size 40/Root 1 0 R/Prev {before}>>\nstartxref\n{}\n%%EOF\n", bytes.len());
    bytes.extend_from_slice([table, trailer].concat().as_bytes());
    bytes
}

#[test]
fn of_a_page_that_was_replaced_the_last_state_is_read() {
    let old = file("BT /F 10 Tf 10 50 Td (sedge)Tj ET", SERIF, &[]);
    let content = |word: &str| {
        let content = format!("BT /F 10 Tf 10 50 Td ({word})Tj ET");
        format!("<</Length {}>>stream\n{content}\nendstream", content.len())
    };
    let new = updated(old, &[(4, &content("rush"))]);
    assert_eq!(text(&one_page(new.clone())), "rush");
    let page = format!(
        "<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Contents 30 0 R/Resources<</Font<<{SERIF}>>>>>>"
    );
    let newer = updated(new, &[(3, &page), (30, &content("fern"))]);
    assert_eq!(text(&one_page(newer)), "fern");
}

/// Locks a file of one page that says `sedge`, with an empty password for whoever reads.
fn locked(version: u8, packs: bool) -> Vec<u8> {
    let whole = file("BT /F 10 Tf 10 50 Td (sedge)Tj ET", SERIF, &[]);
    let mut whole = File::load_mem(&whole).expect("the file is sound");
    let id = lopdf::Object::string_literal("0123456789abcdef");
    whole.trailer.set("ID", vec![id.clone(), id]);
    let (document, owner_password, user_password) = (&whole, "owner", "");
    let (permissions, encrypt_metadata, filter) = (Permissions::all(), true, b"StdCF".to_vec());
    let (stream_filter, string_filter) = (filter.clone(), filter.clone());
    let crypt_filter: Arc<dyn CryptFilter> =
        if version == 4 { Arc::new(Aes128CryptFilter) } else { Arc::new(Aes256CryptFilter) };
    let crypt_filters = [(filter, crypt_filter)].into();
    let (key_length, file_encryption_key) = (128, &[7; 32]);
    let version = match version {
        1 => EncryptionVersion::V1 { document, owner_password, user_password, permissions },
        2 => EncryptionVersion::V2 { document, owner_password, user_password, key_length, permissions },
        4 => EncryptionVersion::V4 {
            document,
            encrypt_metadata,
            crypt_filters,
            stream_filter,
            string_filter,
            owner_password,
            user_password,
            permissions,
        },
        _ => EncryptionVersion::V5 {
            encrypt_metadata,
            crypt_filters,
            file_encryption_key,
            stream_filter,
            string_filter,
            owner_password,
            user_password,
            permissions,
        },
    };
    let state = EncryptionState::try_from(version).expect("the version is known");
    whole.encrypt(&state).expect("the file can be locked");
    let mut bytes = Vec::new();
    if packs { whole.save_modern(&mut bytes) } else { whole.save_to(&mut bytes) }
        .expect("a vector takes all");
    bytes
}

#[test]
fn a_file_locked_with_an_empty_password_is_read() {
    for (version, packs) in [(1, false), (2, false), (2, true), (4, false), (4, true), (5, false), (5, true)]
    {
        let bytes = locked(version, packs);
        assert!(bytes.windows(8).any(|word| word == b"/Encrypt"), "it is locked");
        assert_eq!(text(&one_page(bytes)), "sedge", "version {version}, packed: {packs}");
    }
}

/// A file for programs of two ages: the old table leaves out what only the packed one tells.
#[test]
fn a_table_with_a_packed_one_beside_it_is_read_with_it() {
    let whole = written("BT /F 10 Tf 10 50 Td (sedge)Tj ET", &[]);
    let table_at = whole.find("xref").expect("it has a table");
    let page_at = whole.find("3 0 obj").expect("it has a page");
    let mut bytes = whole.as_bytes()[..table_at].to_vec();
    let packed_at = bytes.len();
    let [_, _, high, low] = (page_at as u32).to_be_bytes();
    bytes.extend_from_slice(
        b"20 0 obj\n<</Type/XRef/W[1 2 1]/Index[3 1]/Size 40/Root 1 0 R/Length 4>>stream\n",
    );
    bytes.extend_from_slice(&[1, high, low, 0]);
    bytes.extend_from_slice(b"\nendstream\nendobj\n");
    let table =
        whole[table_at..].replacen(&format!("3 1\n{page_at:010} 00000 n"), "3 1\n0000000000 65535 f", 1);
    let table = table.replace("/Root", &format!("/XRefStm {packed_at}/Root"));
    let table = table.replace(&format!("startxref\n{table_at}"), &format!("startxref\n{}", bytes.len()));
    bytes.extend_from_slice(table.as_bytes());
    assert_eq!(text(&one_page(bytes)), "sedge");
}

/// Checks what a font of bitmaps says whose glyphs are named by their codes.
#[track_caller]
fn check_bitmaps(names: &str, shown: &str, expected: &str) {
    let font = format!(
        "/F<</Type/Font/Subtype/Type3/FontMatrix[.01 0 0 .01 0 0]/FontBBox[0 0 50 50]/CharProcs<<>>\
         /Encoding<</Differences[{names}]>>/FirstChar 0/LastChar 1/Widths[50 50]>>"
    );
    check_text(&format!("BT /F 10 Tf 10 50 Td <{shown}> Tj ET"), &font, &[], expected);
}

#[test]
fn bitmaps_named_by_their_codes_in_any_form_are_in_the_encoding_that_their_codes_fit() {
    check_bitmaps("12/a12 97/a97/a98", "0c61", "fia");
    check_bitmaps("12/x0C 97/x61/x62", "0c61", "fia");
    check_bitmaps("28/x1C 97/x61/x62", "1c61", "fia");
    check_bitmaps("27/a27/a28 97/a97 233/a233", "1c61e9", "fiaé");
    check_bitmaps("176/a176 189/a189 214/a214", "b0bdd6", "°½×");
    check_bitmaps("97/x61 214/xD6", "61d6", "aÖ");
}
