//! A question put to a flora: read, weighed against the facts of all taxa, narrowed, ranked and counted.

use std::collections::{BTreeMap, BTreeSet};

use crate::describe::{self, Asked, Concepts, Months, Part, Thesaurus, What, Words, lineage, month_names};
use crate::model::{Rank, TaxonId};
use crate::search::answer::{Answer, Narrow, Ranked, Says, Share};
use crate::search::names;
use crate::search::rank::{self, Column, Members, Rows};
use crate::search::table::{Cell, NameKind, Table};
use crate::search::{Error, Index};
use crate::terms::Lexicon;

/// Other places that an answer lists.
const ELSEWHERE: usize = 20;

/// A flora's table with what questions need of it, made at the first one.
#[derive(Debug)]
pub(crate) struct Facts {
    pub(crate) table: Table,
    pub(crate) members: Members,
    pub(crate) thesaurus: Thesaurus,
    pub(crate) rows: Rows,
}

impl Facts {
    /// Prepares a table for questions.
    pub(crate) fn new(table: Table, lexicon: &Lexicon) -> Self {
        let members = Members::of(&table);
        let rows = Rows::of(&table);
        Self { members, thesaurus: Thesaurus::new(lexicon), rows, table }
    }
}

impl Words for Facts {
    fn district(&self, words: &str) -> Option<String> {
        self.table
            .districts()
            .find(|name| name.eq_ignore_ascii_case(words) && *name != "*")
            .map(str::to_owned)
    }

    fn is_name(&self, words: &str) -> bool {
        names::is_whole(&self.table, words)
    }

    fn is_nearly_name(&self, words: &str) -> bool {
        !names::find(&self.table, words).is_empty()
    }

    fn says(&self, state: &str) -> bool {
        self.rows.says(state)
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
    let mut reading = describe::asked(typed, &Concepts::new(lexicon), &facts.thesaurus, facts);
    for part in &mut reading.parts {
        if matches!(part.asked, Asked::NotUnderstood(_)) && index.holds(&format!("{} ", part.words))? {
            part.asked = Asked::Word(part.words.clone());
        }
    }
    let mut columns = Vec::with_capacity(reading.parts.len());
    for part in &reading.parts {
        columns.push(match &part.asked {
            Asked::Phrase(words) => texts(index, facts, &format!("\"{words}\" "))?,
            Asked::Word(word) => texts(index, facts, &format!("{word} "))?,
            Asked::Character(_) | Asked::Name(_) | Asked::NotUnderstood(_) => {
                rank::column((&facts.table, &facts.rows), part, &facts.thesaurus, &facts.members)
            }
        });
    }
    let candidates = candidates(facts, narrow, &reading.parts);
    for column in &mut columns {
        column.set_worth(&candidates);
    }
    let asks = reading.parts.iter().any(|part| !matches!(part.asked, Asked::NotUnderstood(_)));
    let mut answer = Answer { candidates: candidates.len() as u32, ..Answer::default() };
    if asks {
        let (ranked, fitting) = ranked(facts, &columns, &candidates, most);
        answer.fitting = fitting.len() as u32;
        count(facts, &fitting, &mut answer);
        answer.taxa = ranked;
        through(facts, &reading.parts, &mut answer.taxa);
    }
    // Other places of the book are none of the taxa that are asked about.
    if narrow.among.is_none() {
        answer.elsewhere = index.elsewhere(&format!("{typed} "), facts.table.taxa.len(), ELSEWHERE)?;
    }
    answer.parts = reading.parts;
    Ok(answer)
}

fn texts(index: &Index, facts: &Facts, words: &str) -> Result<Column, Error> {
    let found = index.taxa_with(words, facts.table.taxa.len())?;
    Ok(Column::of_texts(&facts.table, &found))
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
    let within: Option<BTreeSet<TaxonId>> = narrow.within.as_deref().map(|name| {
        names::find(table, name)
            .into_iter()
            .filter(|named| named.fit >= 0.99)
            .map(|named| named.taxon)
            .collect()
    });
    let fits = |id: TaxonId| {
        let inside = within.as_ref().is_none_or(|within| {
            lineage(id, |id| rank::parent(table, id)).any(|above| within.contains(&above))
        });
        let among = narrow.among.as_ref().is_none_or(|among| {
            lineage(id, |id| rank::parent(table, id)).any(|above| among.contains(&above))
        });
        inside
            && among
            && narrow.months.is_none_or(|months| in_season(table, id, months))
            && narrow.district.as_deref().is_none_or(|district| grows_in(table, id, district))
    };
    let ids = (0..table.taxa.len()).map(|at| TaxonId(at as u32));
    ids.filter(|id| ranks(table.taxa[id.index()].rank) && fits(*id)).collect()
}

fn in_season(table: &Table, id: TaxonId, months: Months) -> bool {
    rank::allows(table, id, |cell, _| match cell {
        Cell::Season(_, own) => Some(own.meets(months)),
        _ => None,
    })
}

fn grows_in(table: &Table, id: TaxonId, district: &str) -> bool {
    rank::allows(table, id, |cell, _| match cell {
        Cell::District(word) => {
            let own = table.word(*word).unwrap_or_default();
            Some(own == "*" || own.eq_ignore_ascii_case(district))
        }
        _ => None,
    })
}

/// Ranks the candidates; returns the best, and all that agree in something and contradict nothing.
fn ranked(
    facts: &Facts,
    columns: &[Column],
    candidates: &[TaxonId],
    most: usize,
) -> (Vec<Ranked>, Vec<TaxonId>) {
    let table = &facts.table;
    let mut scored: Vec<(f32, TaxonId)> = Vec::with_capacity(candidates.len());
    let mut fitting = Vec::new();
    for id in candidates {
        let says = |column: &Column| column.verdicts[id.index()].says;
        let any = columns.iter().any(|column| matches!(says(column), Says::Agrees | Says::Rarely));
        if !any {
            continue;
        }
        if columns.iter().all(|column| says(column) != Says::Contradicts) {
            fitting.push(*id);
        }
        scored.push((columns.iter().map(|column| column.score(*id)).sum(), *id));
    }
    scored.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
    let ranked = scored.into_iter().take(most).map(|(score, id)| {
        let taxon = &table.taxa[id.index()];
        Ranked {
            id,
            rank: taxon.rank,
            name: taxon.name.clone(),
            page: taxon.page,
            through: None,
            verdicts: columns.iter().map(|column| column.verdicts[id.index()].clone()).collect(),
            score,
            keyed: taxon.keyed,
        }
    });
    (ranked.collect(), fitting)
}

/// Notes by which other name a taxon was found.
fn through(facts: &Facts, parts: &[Part], taxa: &mut [Ranked]) {
    for part in parts {
        let Asked::Name(name) = &part.asked else { continue };
        for named in names::find(&facts.table, name) {
            if named.name.kind != NameKind::Accepted
                && let Some(taxon) = taxa.iter_mut().find(|taxon| taxon.id == named.taxon)
            {
                taxon.through = Some((named.name.printed.clone(), named.name.kind == NameKind::Synonym));
            }
        }
    }
}

/// Counts the fitting taxa by family, genus, district and month.
fn count(facts: &Facts, fitting: &[TaxonId], answer: &mut Answer) {
    let table = &facts.table;
    let (mut families, mut genera) = (BTreeMap::new(), BTreeMap::new());
    let (mut districts, mut months) = (BTreeMap::<u32, u32>::new(), [0_u32; 12]);
    for id in fitting {
        for above in lineage(*id, |id| rank::parent(table, id)) {
            match table.taxa[above.index()].rank {
                Rank::Family => *families.entry(above).or_insert(0) += 1,
                Rank::Genus => *genera.entry(above).or_insert(0) += 1,
                _ => {}
            }
        }
        let (_, rows) = table.of_taxon(*id);
        let mut own = Months::default();
        for row in rows {
            match row.what {
                Cell::District(word) => *districts.entry(word).or_insert(0) += 1,
                Cell::Season(_, seen) => own = own.and(seen),
                _ => {}
            }
        }
        own.list().into_iter().for_each(|month| months[month as usize - 1] += 1);
    }
    let taxa = |counts: BTreeMap<TaxonId, u32>| {
        most_first(counts.into_iter().map(|(id, taxa)| Share {
            name: table.taxa[id.index()].name.clone(),
            taxon: Some(id),
            taxa,
        }))
    };
    answer.families = taxa(families);
    answer.genera = taxa(genera);
    let district = |(word, taxa): (u32, u32)| {
        table.word(word).map(|name| Share { name: name.to_owned(), taxon: None, taxa })
    };
    answer.districts =
        most_first(districts.into_iter().filter_map(district).filter(|share| share.name != "*"));
    let month = |(at, taxa): (usize, u32)| Share { name: month_names()[at].to_owned(), taxon: None, taxa };
    answer.months = months.into_iter().enumerate().map(month).filter(|share| share.taxa > 0).collect();
}

fn most_first(shares: impl Iterator<Item = Share>) -> Vec<Share> {
    let mut shares: Vec<Share> = shares.collect();
    shares.sort_by(|one, other| other.taxa.cmp(&one.taxa).then(one.name.cmp(&other.name)));
    shares
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
