//! Answers to questions as JSON, and the clauses that they rest on.
//!
//! What is printed for people is put together in `verb/find`.

use serde_json::json;

use crate::cli::wording;
use crate::describe::clause_at;
use crate::model::Page;
use crate::search::{self, Answer, Found, Hit, Ranked, Share, Source};
use crate::store::{Book, Contents};

/// Returns an answer as JSON.
pub(crate) fn answer_json(book: &Book, words: &str, answer: &Answer) -> serde_json::Value {
    let contents = book.contents();
    let parts: Vec<serde_json::Value> = (answer.parts.iter())
        .map(|part| json!({"words": part.words, "means": search::echo(part), "understood": search::is_understood(part)}))
        .collect();
    let taxa: Vec<serde_json::Value> =
        answer.taxa.iter().map(|taxon| taxon_json(book, answer, taxon)).collect();
    let shares = |shares: &[Share]| -> Vec<serde_json::Value> {
        shares.iter().map(|share| json!({"name": share.name, "taxa": share.taxa})).collect()
    };
    let narrowed: Vec<serde_json::Value> =
        (answer.narrowed.iter()).map(|part| json!({"words": part.words, "means": part.means})).collect();
    let hits: Vec<serde_json::Value> = answer.elsewhere.iter().map(|hit| hit_json(contents, hit)).collect();
    json!({
        "flora": book.name(),
        "words": words,
        "parts": parts,
        "narrowed": narrowed,
        "candidates": answer.candidates,
        "fitting": answer.fitting,
        "taxa": taxa,
        "ranks": shares(&answer.ranks),
        "families": shares(&answer.families),
        "genera": shares(&answer.genera),
        "districts": shares(&answer.districts),
        "months": shares(&answer.months),
        "hits": hits,
    })
}

/// Returns one taxon as JSON.
fn taxon_json(book: &Book, answer: &Answer, taxon: &Ranked) -> serde_json::Value {
    let contents = book.contents();
    let verdicts = answer.parts.iter().zip(&taxon.verdicts).filter(|(part, _)| search::is_understood(part));
    let verdicts: Vec<serde_json::Value> = verdicts
        .map(|(part, verdict)| {
            let said = verdict.source.as_ref().and_then(|source| sentence(book, source));
            let inherited = verdict.source.as_ref().filter(|source| source.taxon != taxon.id);
            json!({
                "words": part.words,
                "says": verdict.says.word(),
                "inheritedFrom": inherited.map(|source| source.taxon.to_string()),
                "members": verdict.members.map(|(agree, said)| json!({"agree": agree, "say": said})),
                "sentence": said.as_ref().map(|(words, _)| words),
                "page": said.as_ref().map(|(_, page)| page.0),
            })
        })
        .collect();
    let compared: Vec<serde_json::Value> = (taxon.compared.iter())
        .filter_map(|(part, says, source)| {
            let (words, page) = sentence(book, source)?;
            let asked = &answer.parts.get(*part)?.words;
            Some(json!({"words": asked, "says": says.word(), "sentence": words, "page": page.0}))
        })
        .collect();
    json!({
        "id": taxon.id.to_string(),
        "taxonRank": taxon.rank.word(),
        "scientificName": taxon.name,
        "through": taxon.through.as_ref().map(|(name, synonym)| json!({"name": name, "synonym": synonym})),
        "page": taxon.page.0,
        "folio": wording::folio(contents, taxon.page),
        "verdicts": verdicts,
        "compared": compared,
        "keyed": taxon.keyed.map(|(key, couplet)| json!({"key": key.to_string(), "couplet": couplet.0})),
    })
}

/// Returns one hit as JSON.
fn hit_json(contents: &Contents, hit: &Hit) -> serde_json::Value {
    let mut value = match hit.what {
        Found::Taxon(id) => json!({"kind": "taxon", "id": id.to_string()}),
        Found::Couplet(key, couplet) => {
            json!({"kind": "couplet", "id": key.to_string(), "couplet": couplet.0})
        }
        Found::Matter(id, paragraph) => {
            json!({"kind": "matter", "id": id.to_string(), "paragraph": paragraph})
        }
        Found::Entry(id) => json!({"kind": "term", "id": id.to_string()}),
    };
    value["title"] = json!(hit.title);
    value["sentence"] = json!(hit.snippet);
    value["page"] = json!(hit.page.0);
    value["folio"] = json!(wording::folio(contents, hit.page));
    value
}

/// Returns the clause that says something, with its page.
pub(crate) fn sentence(book: &Book, source: &Source) -> Option<(String, Page)> {
    let section = book.taxon(source.taxon)?.sections.get(source.section as usize)?;
    let text = &section.text;
    let words = text.plain.get(clause_at(&text.plain, source.range.start)?)?.to_owned();
    Some((words, text.page_at(source.range.start)))
}
