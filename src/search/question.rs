//! A question put to a flora: read, weighed against the facts of all taxa, narrowed, ranked and counted.

use std::collections::BTreeSet;

use crate::describe::{self, Asked, Concepts, Part, Thesaurus, What, Words, lineage};
use crate::model::{Rank, TaxonId};
use crate::search::answer::{Answer, Narrow, Ranked, Says};
use crate::search::groups::Groups;
use crate::search::names::{self, Named};
use crate::search::postings::Postings;
use crate::search::rank::{self, Column, Ground, Members};
use crate::search::table::{NameKind, Table};
use crate::search::{Error, Index, only};
use crate::terms::Lexicon;

/// Other places that an answer lists.
const ELSEWHERE: usize = 20;

/// A flora's table with what questions need of it, made at the first one.
#[derive(Debug)]
pub(crate) struct Facts {
    pub(crate) table: Table,
    members: Members,
    groups: Groups,
    pub(crate) thesaurus: Thesaurus,
    postings: Postings,
}

impl Facts {
    /// Prepares a table for questions.
    pub(crate) fn new(table: Table, lexicon: &Lexicon) -> Self {
        let others = || {
            let (members, groups) = (Members::of(&table), Groups::of(&table));
            (members, groups, Thesaurus::new(lexicon))
        };
        let (postings, (members, groups, thesaurus)) = rayon::join(|| Postings::of(&table), others);
        Self { table, members, groups, thesaurus, postings }
    }

    /// Returns what columns are weighed with.
    pub(crate) fn ground(&self) -> Ground<'_> {
        let Self { table, postings, thesaurus, members, .. } = self;
        Ground { table, postings, thesaurus, members }
    }
}

impl Words for Facts {
    fn district(&self, words: &str) -> Option<String> {
        self.table.district(words).map(str::to_owned)
    }

    fn is_name(&self, words: &str) -> bool {
        names::is_whole(&self.table, words)
    }

    fn is_nearly_name(&self, words: &str) -> bool {
        names::any(&self.table, words)
    }

    fn says(&self, state: &str) -> bool {
        self.postings.says(state)
    }
}

/// Answers a question.
pub(crate) fn answer(
    index: &Index,
    facts: &Facts,
    typed: &str,
    (narrow, most): (&Narrow, usize),
    lexicon: &Lexicon,
) -> Result<Answer, Error> {
    let mut narrow = narrow.clone();
    let (typed, narrowed) = only::take(typed, &mut narrow, &facts.table);
    let mut reading = describe::asked(&typed, &Concepts::new(lexicon), &facts.thesaurus, facts);
    for part in &mut reading.parts {
        if matches!(part.asked, Asked::NotUnderstood(_)) && index.holds(&format!("{} ", part.words))? {
            part.asked = Asked::Word(part.words.clone());
        }
    }
    let candidates = candidates(facts, &narrow, &reading.parts);
    let mut answer = Answer { candidates: candidates.len() as u32, narrowed, ..Answer::default() };
    if reading.parts.iter().any(|part| !matches!(part.asked, Asked::NotUnderstood(_))) {
        let mut asked = Vec::with_capacity(reading.parts.len());
        for part in &reading.parts {
            asked.push(weighed(index, facts, part, &candidates)?);
        }
        let columns: Vec<&Column> = asked.iter().map(|(column, _)| column).collect();
        let (ranked, fitting) = ranked(facts, &columns, &candidates, most);
        answer.fitting = fitting.len() as u32;
        facts.groups.count(&facts.table, &fitting, &mut answer);
        answer.taxa = ranked;
        for (_, named) in &asked {
            through(named, &mut answer.taxa);
        }
    } else if !answer.narrowed.is_empty() {
        // Narrowed and asked nothing: all that is left is listed as the book has it.
        facts.groups.count(&facts.table, &candidates, &mut answer);
        answer.fitting = candidates.len() as u32;
        answer.taxa = listed(facts, &candidates, most);
    }
    // Other places of the book are none of the taxa that are asked about.
    if narrow.among.is_none() {
        answer.elsewhere = index.elsewhere(&format!("{typed} "), facts.table.taxa.len(), ELSEWHERE)?;
    }
    answer.parts = reading.parts;
    Ok(answer)
}

/// Weighs the candidates against one part; returns the taxa too that it names.
fn weighed<'a>(
    index: &Index,
    facts: &'a Facts,
    part: &Part,
    candidates: &[TaxonId],
) -> Result<(Column, Vec<Named<'a>>), Error> {
    let mut named = Vec::new();
    let taxa = facts.table.taxa.len();
    let mut column = match &part.asked {
        Asked::Phrase(words) => {
            Column::of_texts(&index.taxa_with(&format!("\"{words}\" "), taxa)?, candidates)
        }
        Asked::Word(word) => Column::of_texts(&index.taxa_with(&format!("{word} "), taxa)?, candidates),
        Asked::Name(name) => {
            named = names::find(&facts.table, name);
            Column::of_names(&facts.table, &named, candidates)
        }
        Asked::Character(_) | Asked::NotUnderstood(_) => rank::column(facts.ground(), part, candidates),
    };
    column.set_worth();
    Ok((column, named))
}

/// Returns the taxa that are looked at.
fn candidates(facts: &Facts, narrow: &Narrow, parts: &[Part]) -> Vec<TaxonId> {
    let table = &facts.table;
    let only_names = !parts.is_empty()
        && parts.iter().all(|part| matches!(part.asked, Asked::Name(_) | Asked::Word(_) | Asked::Phrase(_)));
    let any_species = table.taxa.iter().any(|taxon| taxon.rank >= Rank::Species);
    let ranks = |rank: Rank| match narrow.rank {
        Some(wanted) => rank == wanted,
        None => only_names || !any_species || rank >= Rank::Species,
    };
    let named = |name: &String| -> BTreeSet<TaxonId> {
        let found = names::find(table, name).into_iter().filter(|named| named.fit >= names::MEANT);
        found.map(|named| named.taxon).collect()
    };
    let mut within: Vec<BTreeSet<TaxonId>> = narrow.within.iter().map(named).collect();
    within.extend(narrow.among.clone());
    let inside = |id: TaxonId, taxa: &BTreeSet<TaxonId>| {
        lineage(id, |id| rank::parent(table, id)).any(|above| taxa.contains(&above))
    };
    let fits = |id: TaxonId| {
        within.iter().all(|taxa| inside(id, taxa))
            && narrow.months.is_none_or(|months| facts.groups.in_season(table, id, months))
            && narrow.district.as_deref().is_none_or(|district| facts.groups.grows_in(table, id, district))
    };
    let ids = (0..table.taxa.len()).map(|at| TaxonId(at as u32));
    ids.filter(|id| ranks(table.taxa[id.index()].rank) && fits(*id)).collect()
}

/// Ranks the candidates; returns the best, and all that agree in something and contradict nothing.
fn ranked(
    facts: &Facts,
    columns: &[&Column],
    candidates: &[TaxonId],
    most: usize,
) -> (Vec<Ranked>, Vec<TaxonId>) {
    let mut scored: Vec<(f32, usize)> = Vec::with_capacity(candidates.len());
    let mut fitting = Vec::new();
    for (at, id) in candidates.iter().enumerate() {
        if !columns.iter().any(|column| matches!(column.says(at), Says::Agrees | Says::Rarely)) {
            continue;
        }
        if columns.iter().all(|column| column.says(at) != Says::Contradicts) {
            fitting.push(*id);
        }
        scored.push((columns.iter().map(|column| column.score(at)).sum(), at));
    }
    let better = |one: &(f32, usize), other: &(f32, usize)| {
        other.0.total_cmp(&one.0).then(candidates[one.1].cmp(&candidates[other.1]))
    };
    if most < scored.len() {
        scored.select_nth_unstable_by(most, better);
        scored.truncate(most);
    }
    scored.sort_unstable_by(better);
    let ranked = scored.into_iter().map(|(score, at)| {
        let id = candidates[at];
        let verdicts = columns.iter().map(|column| column.verdict(facts.ground(), (at, id))).collect();
        let compared = columns.iter().enumerate().filter_map(|(part, column)| {
            column.compared(&facts.table, id).map(|(says, source)| (part, says, source))
        });
        Ranked { verdicts, compared: compared.collect(), score, ..listed_one(&facts.table, id) }
    });
    (ranked.collect(), fitting)
}

/// Lists candidates of which nothing is asked.
fn listed(facts: &Facts, candidates: &[TaxonId], most: usize) -> Vec<Ranked> {
    candidates.iter().take(most).map(|id| listed_one(&facts.table, *id)).collect()
}

fn listed_one(table: &Table, id: TaxonId) -> Ranked {
    let taxon = &table.taxa[id.index()];
    Ranked {
        id,
        rank: taxon.rank,
        name: taxon.name.clone(),
        page: taxon.page,
        through: None,
        verdicts: Vec::new(),
        compared: Vec::new(),
        score: 0.0,
        keyed: taxon.keyed,
    }
}

/// Notes by which other name a taxon was found.
fn through(found: &[Named<'_>], taxa: &mut [Ranked]) {
    for named in found.iter().filter(|named| named.name.kind != NameKind::Accepted) {
        if let Some(taxon) = taxa.iter_mut().find(|taxon| taxon.id == named.taxon) {
            taxon.through = Some((named.name.printed.clone(), named.name.kind == NameKind::Synonym));
        }
    }
}

/// Says what a part asks, in words, for the echo.
pub fn echo(part: &Part) -> String {
    match &part.asked {
        Asked::Character(facts) => facts.first().map(describe::words_of).unwrap_or_default(),
        Asked::Name(name) => format!("a taxon called {name}"),
        Asked::Phrase(words) => format!("the words “{words}” together"),
        Asked::Word(word) => format!("the word “{word}” in the text"),
        Asked::NotUnderstood(near) if near.is_empty() => "not understood".to_owned(),
        Asked::NotUnderstood(near) => format!("not understood; near it: {}", near.join(", ")),
    }
}

/// Says whether a part asks for something that can be ranked by.
pub fn is_understood(part: &Part) -> bool {
    match &part.asked {
        Asked::Character(facts) => {
            facts.iter().all(|fact| !matches!(fact.what, What::State(ref state) if state.is_empty()))
        }
        Asked::Name(_) | Asked::Phrase(_) | Asked::Word(_) => true,
        Asked::NotUnderstood(_) => false,
    }
}
