//! `ligule find`: the taxa whose descriptions say what is asked, each with what it says, and other places with the words.

use std::collections::BTreeSet;
use std::io::{self, Write};

use serde_json::json;

use crate::cli::answers::{answer_json, sentence};
use crate::cli::choose::{self, Named};
use crate::cli::failure::Failure;
use crate::cli::wording;
use crate::cli::world::World;
use crate::describe::month_names;
use crate::search::{self, Answer, Found, Hit, Index, Narrow, Ranked, Says, Share, Verdict};
use crate::store::{Book, Contents};
use crate::terms::Lexicon;

/// Groups that a line of counts names at most.
const MOST_GROUPS: usize = 6;

/// What `ligule find` takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ligule find 'leaves opposite, hairless; petals 5, yellow, 8 mm; not spiny; July'
  ligule find campion --rank genus
  ligule find '\"lime-encrusted\"' --flora morvane --json
  ligule find 'fruit a samara; only families' --all

Say what you see as a flora would, or in plain words: organ first, commas between what is said of it, a semicolon before
the next organ. Names may be begun or misspelled; words in quotes stand together in the text. What contradicts sinks in the
list and stays in it; silence contradicts nothing. A part that begins with `only` narrows, as the options do: `only
Rosaceae`, `only families`, `only July`, `only` a district.")]
pub(crate) struct Args {
    /// What you see, or a name
    #[arg(required = true)]
    words: Vec<String>,
    /// The flora; several are asked together [default: the only one, or the one read last]
    #[arg(long, value_name = "NAME")]
    flora: Vec<String>,
    /// All floras of the shelf
    #[arg(long, conflicts_with = "flora")]
    all: bool,
    /// Only this rank, such as family or genus [default: species and below]
    #[arg(long, value_name = "RANK")]
    rank: Option<String>,
    /// Only members of this family, genus or other taxon
    #[arg(long, value_name = "TAXON")]
    family: Option<String>,
    /// Only what flowers or fruits in this month, or says nothing of it
    #[arg(long, value_name = "MONTH")]
    month: Option<String>,
    /// Only what grows in this district, or says nothing of it
    #[arg(long, value_name = "DISTRICT")]
    district: Option<String>,
    /// Print at most so many
    #[arg(long, value_name = "NUMBER", default_value_t = 10)]
    most: usize,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

/// What a flora answers.
struct Answered {
    book: Book,
    answer: Answer,
}

/// Carries it out.
pub(crate) fn run(args: &Args, world: &mut World) -> Result<(), Failure> {
    let words = args.words.join(" ");
    let asked = ask(args, world, &words)?;
    if !asked.iter().any(|own| !own.answer.taxa.is_empty() || !own.answer.elsewhere.is_empty()) {
        if args.json {
            print_json(world, &words, &asked)?;
        }
        let titles = asked.iter().map(|own| format!("“{}”", own.book.contents().title));
        let what = format!("nothing in {} answers to: {words}", titles.collect::<Vec<_>>().join(", "));
        let hint = Some("Fewer characters find more; `ligule define` explains a term.".to_owned());
        return Err(Failure::Nothing { what, hint });
    }
    match &asked[..] {
        _ if args.json => print_json(world, &words, &asked)?,
        [one] => print(world, &one.book, &one.answer)?,
        several => print_several(world, several, args.most)?,
    }
    Ok(())
}

/// Asks every flora that is meant.
fn ask(args: &Args, world: &World, words: &str) -> Result<Vec<Answered>, Failure> {
    let mut narrow = narrow(args)?;
    let (mut asked, mut missed) = (Vec::new(), Missed::default());
    for book in books(args, world)? {
        let lexicon = || Lexicon::with_flora(&book.contents().title, book.glossary());
        let warm = |index: Index| index.warm().map(|()| index);
        let (lexicon, index) = rayon::join(lexicon, || index(world, &book).map(warm));
        let index = index??;
        // A flora that has no such taxon has no members of it.
        if let Some(typed) = &args.family
            && !index.has_taxon(typed, &lexicon)?
        {
            missed.taxa.extend(index.taxa_like(typed, &lexicon)?);
            continue;
        }
        if let Some(typed) = &args.district {
            let known = index.districts(&lexicon)?;
            narrow.district = known.iter().find(|own| own.eq_ignore_ascii_case(typed)).cloned();
            missed.districts.get_or_insert_default().extend(known);
            // A flora that has no such district has nothing that grows there.
            if narrow.district.is_none() {
                continue;
            }
        }
        asked.push(Answered { answer: index.answer(words, &narrow, args.most, &lexicon)?, book });
    }
    if asked.is_empty() {
        Err(missed.failure((args.family.as_deref(), args.district.as_deref())))
    } else {
        Ok(asked)
    }
}

/// What floras have that do not have the taxon or the district which narrows.
#[derive(Default)]
struct Missed {
    /// Names like that of the taxon.
    taxa: BTreeSet<String>,
    /// The districts of those that have the taxon.
    districts: Option<BTreeSet<String>>,
}

impl Missed {
    /// Returns the failure where no flora is left to be asked.
    fn failure(&self, (family, district): (Option<&str>, Option<&str>)) -> Failure {
        let (what, typed, known) = match &self.districts {
            Some(districts) => ("district", district, districts),
            None => ("taxon", family, &self.taxa),
        };
        unknown(what, typed.unwrap_or_default(), known.iter().map(String::as_str))
    }
}

/// Prints what one flora, or several, answer.
fn print_json(world: &mut World, words: &str, asked: &[Answered]) -> Result<(), Failure> {
    let value = match asked {
        [one] => answer_json(&one.book, words, &one.answer),
        several => {
            let answers = several.iter().map(|own| answer_json(&own.book, words, &own.answer));
            json!({"words": words, "floras": answers.collect::<Vec<_>>()})
        }
    };
    world.json(&value)
}

/// Opens the floras that are asked.
fn books(args: &Args, world: &World) -> Result<Vec<Book>, Failure> {
    let names: Vec<String> = if args.all {
        world.shelf()?.rows()?.into_iter().map(|row| row.name).collect()
    } else {
        args.flora.clone()
    };
    match &names[..] {
        [] => Ok(vec![choose::book(world, None, Named::ByOption)?]),
        names => names.iter().map(|name| choose::book(world, Some(name), Named::ByOption)).collect(),
    }
}

/// Reads what narrows the taxa; districts are those of each flora.
fn narrow(args: &Args) -> Result<Narrow, Failure> {
    let rank = args
        .rank
        .as_deref()
        .map(|word| search::rank_named(word).ok_or_else(|| unknown("rank", word, search::rank_words())));
    let month = args.month.as_deref().map(|word| {
        search::month_named(word).ok_or_else(|| unknown("month", word, month_names().iter().copied()))
    });
    Ok(Narrow {
        rank: rank.transpose()?,
        within: args.family.clone().into_iter().collect(),
        months: month.transpose()?,
        ..Narrow::default()
    })
}

/// Returns the failure for a word that is none of those known.
fn unknown<'a>(what: &'static str, typed: &str, known: impl Iterator<Item = &'a str>) -> Failure {
    Failure::Unknown { what, typed: typed.to_owned(), known: known.map(str::to_owned).collect() }
}

/// Opens the flora's index, made anew where this version can't read it.
fn index(world: &World, book: &Book) -> Result<Index, Failure> {
    let dir = world.shelf()?.index_dir(book.name());
    match Index::open(&dir) {
        Ok(index) => Ok(index),
        Err(search::Error::Missing { .. } | search::Error::Engine { .. }) => {
            search::build(&dir, &book.whole()?)?;
            Ok(Index::open(&dir)?)
        }
        Err(error) => Err(error.into()),
    }
}

/// Prints how the question was understood.
fn print_echo(world: &mut World, answer: &Answer) -> io::Result<()> {
    for part in &answer.parts {
        writeln!(world.out, "{} = {}", part.words, search::echo(part))?;
    }
    for part in &answer.narrowed {
        let means = part.means.as_deref().unwrap_or("not understood, nothing is narrowed by it");
        writeln!(world.out, "{} = {means}", part.words)?;
    }
    Ok(())
}

/// Prints what several floras answer: how many fit in each, then the taxa of all together, the best first.
fn print_several(world: &mut World, asked: &[Answered], most: usize) -> io::Result<()> {
    let mut taxa: Vec<(&Answered, &Ranked)> = Vec::new();
    for (at, own) in asked.iter().enumerate() {
        if at == 0 {
            print_echo(world, &own.answer)?;
        }
        let (answer, title) = (&own.answer, &own.book.contents().title);
        let fitting = wording::count(answer.fitting, "taxon", "taxa");
        let groups = groups(&answer.families);
        writeln!(world.out, "{title}: {fitting} of {} contradicted by nothing{groups}", answer.candidates)?;
        taxa.extend(answer.taxa.iter().map(|taxon| (own, taxon)));
    }
    taxa.sort_by(|(_, one), (_, other)| other.score.total_cmp(&one.score));
    for (own, taxon) in taxa.into_iter().take(most) {
        print_taxon(world, (&own.book, Among::Several), &own.answer, taxon)?;
    }
    for own in asked.iter().filter(|own| !own.answer.elsewhere.is_empty()) {
        let contents = own.book.contents();
        let heading = world.look.heading(&format!("Elsewhere in {}", contents.title));
        writeln!(world.out, "\n{heading}")?;
        own.answer.elsewhere.iter().take(most).try_for_each(|hit| print_hit(world, contents, hit))?;
    }
    Ok(())
}

/// Whether one flora is asked or several, which are then named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Among {
    One,
    Several,
}

/// Prints an answer: what was understood, the taxa, other places.
fn print(world: &mut World, book: &Book, answer: &Answer) -> io::Result<()> {
    let contents = book.contents();
    print_echo(world, answer)?;
    if !answer.taxa.is_empty() {
        let fitting = wording::count(answer.fitting, "taxon", "taxa");
        writeln!(
            world.out,
            "{fitting} of {} contradicted by nothing{}",
            answer.candidates,
            groups(&answer.families)
        )?;
        for (what, shares) in [
            ("ranks", &answer.ranks),
            ("genera", &answer.genera),
            ("districts", &answer.districts),
            ("months", &answer.months),
        ] {
            if answer.fitting > 1 && shares.len() > 1 {
                writeln!(world.out, "{what}{}", groups(shares))?;
            }
        }
    }
    for taxon in &answer.taxa {
        print_taxon(world, (book, Among::One), answer, taxon)?;
    }
    if !answer.elsewhere.is_empty() {
        writeln!(world.out, "\n{}", world.look.heading("Elsewhere in the book"))?;
    }
    answer.elsewhere.iter().try_for_each(|hit| print_hit(world, contents, hit))
}

/// Returns the largest groups for the end of a line.
fn groups(shares: &[Share]) -> String {
    if shares.is_empty() {
        return String::new();
    }
    let named: Vec<String> =
        shares.iter().take(MOST_GROUPS).map(|share| format!("{} {}", share.name, share.taxa)).collect();
    let more = if shares.len() > MOST_GROUPS { ", …" } else { "" };
    format!(": {}{more}", named.join(", "))
}

/// Prints one taxon with its verdicts.
fn print_taxon(
    world: &mut World,
    (book, among): (&Book, Among),
    answer: &Answer,
    taxon: &Ranked,
) -> io::Result<()> {
    let contents = book.contents();
    let name = world.look.heading(&taxon.name);
    let through = match &taxon.through {
        Some((name, true)) => format!(" (found as its synonym {name})"),
        Some((name, false)) => format!(" ({name})"),
        None => String::new(),
    };
    let flora = match among {
        Among::One => String::new(),
        Among::Several => format!(", {}", contents.title),
    };
    writeln!(world.out, "\n{name}{through}{flora}, {}", wording::place(contents, taxon.page))?;
    let mut unstated = Vec::new();
    for (part, verdict) in answer.parts.iter().zip(&taxon.verdicts) {
        if !search::is_understood(part) {
            continue;
        }
        if verdict.says == Says::Unstated {
            unstated.push(part.words.as_str());
            continue;
        }
        let whence = whence(contents, taxon, verdict);
        let said = verdict.source.as_ref().and_then(|source| sentence(book, source));
        let said = said.map_or_else(String::new, |(words, _)| format!(": {words}"));
        let line = format!("{} {}{whence}{said}", part.words, verdict.says.word());
        world.look.paragraph(&mut world.out, "  ", &line)?;
    }
    if !unstated.is_empty() {
        world.look.paragraph(&mut world.out, "  ", &format!("unstated: {}", unstated.join("; ")))?;
    }
    for (part, _, source) in &taxon.compared {
        let (Some(part), Some((words, _))) = (answer.parts.get(*part), sentence(book, source)) else {
            continue;
        };
        let line = format!("{}: in a note, perhaps of another taxon: {words}", part.words);
        world.look.paragraph(&mut world.out, "  ", &line)?;
    }
    if let Some((key, couplet)) = taxon.keyed
        && let Some(row) = choose::key_row(contents, key)
        && let Some(couplet) = book.key(key).and_then(|key| key.couplet(couplet))
    {
        writeln!(world.out, "  keys out at couplet {} of {}", couplet.label, choose::title(row))?;
    }
    Ok(())
}

/// Says whose words a verdict rests on, where they are not the taxon's own.
fn whence(contents: &Contents, taxon: &Ranked, verdict: &Verdict) -> String {
    if let Some((agree, said)) = verdict.members {
        return format!(" ({agree} of {said} members that say)");
    }
    let other = verdict.source.as_ref().filter(|source| source.taxon != taxon.id);
    let row = other.and_then(|source| contents.taxa.get(source.taxon.index()));
    row.map_or_else(String::new, |row| format!(" (inherited from {})", row.name))
}

/// Prints one hit of the text.
fn print_hit(world: &mut World, contents: &Contents, hit: &Hit) -> io::Result<()> {
    let title = world.look.heading(&hit.title);
    let term = match hit.what {
        Found::Entry(_) => " (glossary)",
        Found::Taxon(_) | Found::Couplet(..) | Found::Matter(..) => "",
    };
    writeln!(world.out, "{title}{term}, {}", wording::place(contents, hit.page))?;
    world.look.paragraph(&mut world.out, "  ", &hit.snippet)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(names: &[&str]) -> BTreeSet<String> {
        names.iter().map(|name| (*name).to_owned()).collect()
    }

    /// Checks what is said to be unknown where the call narrows to both a taxon and a district, and what is known.
    #[track_caller]
    fn check_missed(missed: &Missed, expected: (&str, &str, &[&str])) {
        let failure = missed.failure((Some("Zonkaceae"), Some("Skerra")));
        let Failure::Unknown { what, typed, known } = &failure else { panic!("{failure}") };
        let known: Vec<&str> = known.iter().map(String::as_str).collect();
        assert_eq!((*what, typed.as_str(), &known[..]), expected);
    }

    #[test]
    fn what_no_flora_has_is_named_the_taxon_before_the_district() {
        check_missed(&Missed::default(), ("taxon", "Zonkaceae", &[]));
        let near = Missed { taxa: names(&["Zonaceae"]), districts: None };
        check_missed(&near, ("taxon", "Zonkaceae", &["Zonaceae"]));
        let had = Missed { taxa: names(&["Zonaceae"]), districts: Some(names(&["Holm"])) };
        check_missed(&had, ("district", "Skerra", &["Holm"]));
    }
}
