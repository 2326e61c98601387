//! Small made-up pages through the whole of layout, shown line by line.

mod found;
use super::*;
use crate::pdf::{Face, Glyph, Page, Role, Span};

const WIDTH: f32 = 400.0;
const HEIGHT: f32 = 600.0;
/// Advance of every letter, as a share of its size.
const ADVANCE: f32 = 0.5;

/// A text set at a place.
struct Put<'a>(f32, f32, f32, &'a str);

fn page(puts: &[Put]) -> Page {
    let mut page = Page { size: (WIDTH, HEIGHT), ..Page::default() };
    for Put(x, y, size, text) in puts {
        let start = page.glyphs.len() as u32;
        let bold = text.starts_with('^');
        for (index, character) in text.trim_start_matches('^').chars().enumerate() {
            let x = x + index as f32 * size * ADVANCE;
            page.glyphs.push(Glyph { character, x, width: size * ADVANCE });
        }
        page.spans.push(Span {
            face: Face { bold, ..Face::default() },
            size: *size,
            y: *y,
            turn: 0,
            role: Role::Text,
            glyphs: start..page.glyphs.len() as u32,
        });
    }
    page
}

/// Shows blocks as text, one a line; asides in angle brackets, leaders as `…`, wide gaps as `|`.
fn show(setting: &Setting) -> String {
    let mut lines = Vec::new();
    for block in &setting.blocks {
        let mut text = words(&block.lines);
        if let [line] = &block.lines[..] {
            text = line
                .runs
                .iter()
                .map(|run| match run.before {
                    Gap::None => run.text.clone(),
                    Gap::Space => format!(" {}", run.text),
                    Gap::Wide => format!("|{}", run.text),
                    Gap::Leader => format!("…{}", run.text),
                })
                .collect();
        }
        lines.push(if block.kind == BlockKind::Aside { format!("<{text}>") } else { text });
    }
    lines.join("\n")
}

#[track_caller]
fn check_pages(pages: Vec<Page>, expected: &str) {
    let document = Document { pages, ..Document::default() };
    assert_eq!(show(&set(&document, &|_| false)), expected);
}

/// Two columns of ten full lines each, named by letter and number.
fn columns() -> Vec<(f32, f32, f32, String)> {
    let mut puts = Vec::new();
    for row in 0..10_u8 {
        for (x, name) in [(40.0, 'a'), (220.0, 'b')] {
            puts.push((
                x,
                100.0 + f32::from(row) * 12.0,
                10.0,
                format!("{name}{row} lanceolate leaves, and the"),
            ));
        }
    }
    puts
}

fn page_of(puts: &[(f32, f32, f32, String)]) -> Page {
    let puts: Vec<Put> = puts.iter().map(|(x, y, size, text)| Put(*x, *y, *size, text)).collect();
    page(&puts)
}

fn first_words(setting: &Setting) -> String {
    let lines = setting.blocks.iter().flat_map(|block| &block.lines);
    lines
        .filter_map(|line| line.runs[0].text.split(' ').next().map(str::to_owned))
        .collect::<Vec<_>>()
        .join(" ")
}

#[track_caller]
fn check_order(puts: &[(f32, f32, f32, String)], expected: &str) {
    let document = Document { pages: vec![page_of(puts); 2], ..Document::default() };
    let setting = set(&document, &|_| false);
    let words = first_words(&setting);
    assert_eq!(words, format!("{expected} {expected}"));
}

#[test]
fn columns_are_read_one_after_the_other() {
    check_order(&columns(), "a0 a1 a2 a3 a4 a5 a6 a7 a8 a9 b0 b1 b2 b3 b4 b5 b6 b7 b8 b9");
}

#[test]
fn a_heading_over_both_columns_parts_them_into_bands() {
    let mut puts = columns();
    for put in puts.iter_mut().filter(|put| put.1 > 155.0) {
        put.1 += 40.0;
    }
    puts.push((100.0, 175.0, 14.0, "KEY TO THE GENERA OF ALL PLANTS".into()));
    check_order(&puts, "a0 a1 a2 a3 a4 b0 b1 b2 b3 b4 KEY a5 a6 a7 a8 a9 b5 b6 b7 b8 b9");
}

#[test]
fn labels_beside_their_leads_are_no_column() {
    let mut puts = columns();
    for put in &mut puts {
        let (label, lead) = put.3.split_at(2);
        let (label, lead) = (label.to_owned(), lead.trim().to_owned());
        *put = (put.0, put.1, put.2, format!("{label}   {lead}"));
    }
    check_order(&puts, "a0 a1 a2 a3 a4 a5 a6 a7 a8 a9 b0 b1 b2 b3 b4 b5 b6 b7 b8 b9");
}

#[test]
fn targets_set_flush_right_are_no_column() {
    let mut puts = Vec::new();
    for row in 0..12_u8 {
        let y = 100.0 + f32::from(row) * 12.0;
        let lead = "lead of some length that varies a lot";
        puts.push((40.0, y, 10.0, format!("{row}a. {}", &lead[..12 + usize::from(row) * 2])));
        let target = if row % 2 == 0 { "Silene alta" } else { "Silene" };
        puts.push((360.0 - 5.0 * target.len() as f32, y, 10.0, target.to_owned()));
    }
    check_order(&puts, "0a. 1a. 2a. 3a. 4a. 5a. 6a. 7a. 8a. 9a. 10a. 11a.");
}

#[test]
fn a_running_head_that_names_the_taxon_is_taken_away_and_its_folio_kept() {
    let names = ["Silene alta", "Carex nigra", "Poa annua", "Rumex acer", "Salix alba", "Viola lutea"];
    let pages: Vec<Page> = (0_u8..6)
        .map(|index| {
            let mut puts =
                vec![(40.0, 40.0, 10.0, format!("{}    {}", names[usize::from(index)], 7 + index))];
            for row in 0..8_u8 {
                puts.push((
                    40.0,
                    80.0 + f32::from(row) * 12.0,
                    10.0,
                    format!("p{index}r{row} {} grows here", names[usize::from(index + row) % 6]),
                ));
            }
            page_of(&puts)
        })
        .collect();
    let setting = set(&Document { pages, ..Document::default() }, &|_| false);
    let folios: Vec<&str> = setting.pages.iter().filter_map(|page| page.folio.as_deref()).collect();
    assert_eq!(folios.join(" "), "7 8 9 10 11 12");
    assert!(first_words(&setting).starts_with("p0r0 p0r1"));
    assert_eq!(setting.pages[2].heads, ["Poa annua 9"]);
}

#[test]
fn a_running_head_of_two_lines_goes_with_the_folio_on_its_second_line() {
    let pages: Vec<Page> = (0_u8..12)
        .map(|index| {
            let name = format!("{}osa", char::from(b'A' + index));
            let mut puts = vec![(40.0, 40.0, 10.0, format!("{name}    {}", 7 + index))];
            if index == 3 {
                puts[0].3 = "Rumex acer, with all of its".to_owned();
                puts.push((40.0, 52.0, 10.0, "varieties    10".to_owned()));
            }
            puts.extend((0_u8..8).map(|row| {
                (40.0, 80.0 + f32::from(row) * 12.0, 10.0, format!("p{index}r{row} {name} grows here"))
            }));
            page_of(&puts)
        })
        .collect();
    let setting = set(&Document { pages, ..Document::default() }, &|_| false);
    assert_eq!(setting.pages[3].heads, ["Rumex acer, with all of its", "varieties 10"]);
    assert_eq!(setting.pages[3].folio.as_deref(), Some("10"));
}

#[test]
fn page_numbers_of_a_list_of_contents_are_no_column() {
    let contents: Vec<(f32, f32, f32, String)> = (0_u8..8)
        .flat_map(|row| {
            let y = 100.0 + f32::from(row) * 12.0;
            [(40.0, y, 10.0, format!("c{row} Rosaceae")), (345.0, y, 10.0, format!("{}", 10 + row))]
        })
        .collect();
    let pages = vec![page_of(&columns()), page_of(&contents), page_of(&columns())];
    let setting = set(&Document { pages, ..Document::default() }, &|_| false);
    assert_eq!(setting.pages.iter().map(|page| page.columns).collect::<Vec<_>>(), [2, 1, 2]);
}

#[test]
fn dots_that_lead_to_a_target_are_a_leader() {
    check_pages(
        vec![page(&[Put(40.0, 100.0, 10.0, "1a. Leaves opposite............2")])],
        "1a. Leaves opposite…2",
    );
}

#[test]
fn a_full_stop_before_a_leader_stays_with_the_lead() {
    let dots = page(&[Put(40.0, 100.0, 10.0, "Leaves opposite."), Put(126.0, 100.0, 10.0, ". . . . . . 2")]);
    check_pages(vec![dots], "Leaves opposite.…2");
}

#[test]
fn hanging_entries_are_blocks_also_where_their_last_line_is_full() {
    let mut puts = Vec::new();
    for entry in 0..4_u8 {
        let y = 100.0 + f32::from(entry) * 24.0;
        puts.push((40.0, y, 10.0, format!("e{entry} a hanging entry that runs on")));
        puts.push((56.0, y + 12.0, 10.0, "over its second line to its end".into()));
    }
    let document = Document { pages: vec![page_of(&puts)], ..Document::default() };
    let blocks = set(&document, &|_| false).blocks.len();
    assert_eq!(blocks, 4);
}

#[test]
fn a_line_that_leaves_room_for_the_next_word_ends_its_block() {
    check_pages(
        vec![page(&[
            Put(40.0, 100.0, 10.0, "Stems erect, branched from the very base,"),
            Put(40.0, 112.0, 10.0, "hairy."),
            Put(40.0, 124.0, 10.0, "Leaves opposite, lanceolate to ovate, hard"),
        ])],
        "Stems erect, branched from the very base, hairy.\nLeaves opposite, lanceolate to ovate, hard",
    );
}

/// Checks how the blocks of two pages open whose second column starts with a number in bold.
#[track_caller]
fn check_numbered_below(end: &str, expected: &str) {
    let mut puts = columns();
    puts.retain(|put| !put.3.starts_with("b0"));
    puts.push((220.0, 100.0, 10.0, "^3.1.".to_owned()));
    puts.push((250.0, 100.0, 10.0, "Lanceolate leaves and a".to_owned()));
    let last = puts.iter_mut().find(|put| put.3.starts_with("a9")).expect("the column has ten lines");
    last.3 = format!("a9 lanceolate leaves, and {end}");
    puts.sort_by(|one, other| {
        (one.0 > 200.0, one.1, one.0)
            .partial_cmp(&(other.0 > 200.0, other.1, other.0))
            .expect("places are numbers")
    });
    let document = Document { pages: vec![page_of(&puts); 2], ..Document::default() };
    let openings: Vec<String> = set(&document, &|_| false)
        .blocks
        .iter()
        .map(|block| block.lines[0].runs[0].text.split(' ').next().unwrap_or_default().to_owned())
        .collect();
    assert_eq!(openings.join(" "), expected);
}

#[test]
fn a_number_in_bold_at_the_top_of_a_column_opens_a_block_after_a_full_stop() {
    check_numbered_below("so.", "a0 3.1. 3.1.");
    check_numbered_below("the", "a0");
}

#[test]
fn a_word_broken_at_a_line_end_is_joined_and_a_compound_keeps_its_hyphen() {
    check_pages(
        vec![page(&[
            Put(40.0, 100.0, 10.0, "Petals glabrous; the fruit net-veined, gla-"),
            Put(40.0, 112.0, 10.0, "brous when ripe, on the lower side net-"),
            Put(40.0, 124.0, 10.0, "veined, with glabrous seeds in some years."),
        ])],
        "Petals glabrous; the fruit net-veined, glabrous when ripe, on the lower side net-veined, \
         with glabrous seeds in some years.",
    );
}

#[test]
fn a_book_with_a_sign_of_its_own_for_breaks_keeps_its_common_hyphens() {
    let mut puts = Vec::new();
    for row in 0..6_u8 {
        let y = 100.0 + f32::from(row) * 24.0;
        puts.push((40.0, y, 10.0, "The lower leaves are larger, with mar\u{2010}".to_owned()));
        puts.push((40.0, y + 12.0, 10.0, "gins that are rough, and some are urn-".to_owned()));
    }
    puts.push((40.0, 244.0, 10.0, "shaped.".into()));
    let document = Document { pages: vec![page_of(&puts)], ..Document::default() };
    let ends: Vec<LineEnd> = set(&document, &|_| false)
        .blocks
        .iter()
        .flat_map(|block| &block.lines)
        .map(|line| line.end)
        .collect();
    assert_eq!(ends[0], LineEnd::Broken);
    assert_eq!(ends[11], LineEnd::Compound);
}

#[test]
fn a_footnote_stands_after_the_block_that_it_interrupts() {
    let body = |x: f32, y: f32, text: &'static str| (x, y, 10.0, text.to_owned());
    let first = page_of(&[
        body(40.0, 100.0, "Perennial herb with a stout rootstock that"),
        body(40.0, 112.0, "sends up many erect stems, each of them the"),
        (40.0, 140.0, 8.0, "1. Seen once.".into()),
    ]);
    let second = page_of(&[body(40.0, 100.0, "bearer of one head.")]);
    check_pages(
        vec![first, second],
        "Perennial herb with a stout rootstock that sends up many erect stems, each of them the bearer of one \
         head.\n<1. Seen once.>",
    );
}

#[test]
fn small_capitals_by_size_are_one_run_with_their_capital() {
    let document = Document {
        pages: vec![page(&[Put(40.0, 100.0, 10.0, "C"), Put(45.0, 100.0, 8.0, "AMPION")])],
        ..Document::default()
    };
    let setting = set(&document, &|_| false);
    let run = &setting.blocks[0].lines[0].runs[0];
    assert_eq!((run.text.as_str(), run.style.small_caps), ("CAMPION", true));
}

#[test]
fn letters_drawn_twice_are_bold_and_stand_once() {
    let document = Document {
        pages: vec![page(&[Put(40.0, 100.0, 10.0, "A"), Put(40.3, 100.0, 10.0, "A")])],
        ..Document::default()
    };
    let setting = set(&document, &|_| false);
    let run = &setting.blocks[0].lines[0].runs[0];
    assert_eq!((run.text.as_str(), run.style.bold), ("A", true));
}

/// So many columns of ten lines each, named by letter and number.
fn narrow_columns(count: u8) -> Vec<(f32, f32, f32, String)> {
    let names = ['a', 'b', 'c', 'd'];
    let all = (0..count).flat_map(|column| (0..12_u8).map(move |row| (column, row)));
    all.map(|(column, row)| {
        let name = names[usize::from(column)];
        (
            20.0 + 95.0 * f32::from(column),
            100.0 + 10.0 * f32::from(row),
            8.0,
            format!("{name}{row} ovate, hairy, and"),
        )
    })
    .collect()
}

/// The names of the lines of columns, one column after the other.
fn names_of_columns(count: u8) -> String {
    let names =
        narrow_columns(count).into_iter().map(|put| put.3.split(' ').next().unwrap_or_default().to_owned());
    names.collect::<Vec<_>>().join(" ")
}

#[test]
fn three_and_four_columns_are_read_one_after_the_other() {
    check_order(&narrow_columns(3), &names_of_columns(3));
    check_order(&narrow_columns(4), &names_of_columns(4));
}

#[test]
fn a_head_over_four_columns_comes_before_them() {
    let mut puts = narrow_columns(4);
    puts.push((90.0, 70.0, 10.0, "INDEX of all the names and of their synonyms".into()));
    check_order(&puts, &format!("INDEX {}", names_of_columns(4)));
}

#[test]
fn running_heads_that_name_the_first_and_the_last_taxon_are_taken_away() {
    let names = ["alta", "arvensis", "borealis", "maritima", "nigra", "palustris", "pratensis", "rupestris"];
    let pages: Vec<Page> = (0_u8..7)
        .map(|index| {
            let at = usize::from(index);
            let mut puts = vec![
                (40.0, 40.0, 9.0, format!("Silene {}", names[at])),
                (195.0, 40.0, 9.0, format!("{}", 31 + index)),
                (300.0, 40.0, 9.0, format!("Silene {}", names[at + 1])),
            ];
            puts.extend((0_u8..8).map(|row| {
                (
                    40.0,
                    64.0 + f32::from(row) * 12.0,
                    10.0,
                    format!("p{index}r{row} Silene {} grows here", names[at]),
                )
            }));
            page_of(&puts)
        })
        .collect();
    let setting = set(&Document { pages, ..Document::default() }, &|_| false);
    assert_eq!(setting.pages[4].heads, ["Silene nigra 35 Silene palustris"]);
    assert_eq!(setting.pages[4].folio.as_deref(), Some("35"));
    assert!(first_words(&setting).starts_with("p0r0 p0r1"));
}

#[test]
fn a_table_is_an_aside_and_the_paragraph_goes_on_below_it() {
    let text = |y: f32, text: &str| (40.0, y, 10.0, text.to_owned());
    let cell = |x: f32, y: f32, text: &str| (x, y, 8.0, text.to_owned());
    check_pages(
        vec![page_of(&[
            text(100.0, "The species differ in the shape of their lower"),
            cell(40.0, 126.0, "Table 2. Fruits of the species"),
            cell(40.0, 138.0, "alta"),
            cell(160.0, 138.0, "ovoid"),
            cell(40.0, 148.0, "nigra"),
            cell(160.0, 148.0, "globose"),
            text(174.0, "leaves, and in the hairs on their upper stems."),
        ])],
        "The species differ in the shape of their lower leaves, and in the hairs on their upper stems.\n\
         <Table 2. Fruits of the species>\n<alta|ovoid>\n<nigra|globose>",
    );
}

#[test]
fn letters_set_apart_are_words() {
    let mut puts = Vec::new();
    let mut x = 40.0;
    for character in "KEY TO SPECIES".chars() {
        if character == ' ' {
            x += 5.0;
            continue;
        }
        puts.push((x, 100.0, 10.0, character.to_string()));
        x += 8.0;
    }
    check_pages(vec![page_of(&puts)], "KEY TO SPECIES");
}

#[track_caller]
fn check_leader(drawn: &str, expected: &str) {
    check_pages(vec![page(&[Put(40.0, 100.0, 10.0, drawn)])], expected);
}

#[test]
fn leaders_are_known_in_every_form() {
    check_leader("Leaves hairy . . . . . . . Silene", "Leaves hairy…Silene");
    check_leader("Leaves hairy .......... Silene", "Leaves hairy…Silene");
    check_leader("Leaves hairy·········Silene", "Leaves hairy…Silene");
    check_leader("Leaves hairy ……… 4", "Leaves hairy…4");
    check_leader("Leaves hairy ________ Silene", "Leaves hairy…Silene");
    check_leader("Leaves hairy ‥‥‥‥ Silene", "Leaves hairy…Silene");
    check_leader("Leaves hairy; 2n = 24 ..... 5", "Leaves hairy; 2n = 24…5");
}

#[test]
fn three_dots_within_a_sentence_are_no_leader() {
    check_leader("Leaves hairy... or not", "Leaves hairy... or not");
}

#[test]
fn a_leader_at_the_lines_end_leads_to_the_line_below() {
    let lead = page(&[
        Put(40.0, 100.0, 10.0, "1a. Leaves opposite and hairy............"),
        Put(180.0, 112.0, 10.0, "Silene"),
        Put(40.0, 124.0, 10.0, "1b. Leaves alternate, all of them..Poa"),
    ]);
    let setting = set(&Document { pages: vec![lead], ..Document::default() }, &|_| false);
    assert_eq!(words(&setting.blocks[0].lines), "1a. Leaves opposite and hairy Silene");
}

#[test]
fn a_footnote_below_each_of_two_columns_is_an_aside() {
    let mut puts = columns();
    for (x, mark) in [(40.0, '1'), (220.0, '2')] {
        puts.push((x, 240.0, 8.0, format!("{mark} Seen in one place only.")));
    }
    let document = Document { pages: vec![page_of(&puts); 2], ..Document::default() };
    let setting = set(&document, &|_| false);
    let asides = setting.blocks.iter().filter(|block| block.kind == BlockKind::Aside);
    let asides: Vec<String> = asides.map(|block| words(&block.lines)).collect();
    assert_eq!(asides.join(" | "), ["1 Seen in one place only. | 2 Seen in one place only."; 2].join(" | "));
}

/// Checks which folios pages have that print some, or none, and are labelled so by the file.
#[track_caller]
fn check_folios(printed: [&str; 4], labels: [&str; 4], expected: [&str; 4]) {
    let some = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
    let mut pages = printed.map(|folio| SetPage { folio: some(folio), ..SetPage::default() });
    fill_folios(&mut pages, &labels.map(some));
    assert_eq!(pages.map(|page| page.folio.unwrap_or_default()), expected.map(str::to_owned));
}

#[test]
fn a_page_without_a_printed_folio_has_that_of_the_file() {
    check_folios(["", "", "1", "2"], ["i", "ii", "1", "2"], ["i", "ii", "1", "2"]);
    check_folios(["", "", "", ""], ["", "A-1", "", "A-3"], ["", "A-1", "", "A-3"]);
}

#[test]
fn the_printed_folio_wins_and_labels_that_only_count_pages_say_nothing() {
    check_folios(["7", "8", "", "10"], ["7", "8", "9", "11"], ["7", "8", "9", "10"]);
    check_folios(["7", "8", "", "10"], ["1", "2", "3", "4"], ["7", "8", "", "10"]);
}
