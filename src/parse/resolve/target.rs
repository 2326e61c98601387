//! One printed target to what it means in this book (N16, K21–K27).

use std::collections::BTreeMap;

use crate::model::{CoupletId, KeyId, Rank, Target, Taxon, TaxonId};
use crate::name;
use crate::parse::key::label::Series;
use crate::parse::key::read::RawKey;
use crate::parse::key::target::Named;
use crate::parse::words;

use super::scope::Scope;

/// All that targets may name.
pub(super) struct Resolver<'a> {
    taxa: &'a [Taxon],
    scopes: &'a [Scope],
    by_name: BTreeMap<String, TaxonId>,
    by_synonym: BTreeMap<String, TaxonId>,
    by_genus: BTreeMap<String, Vec<TaxonId>>,
    titles: Vec<String>,
}

/// What one key's earlier leads tell its later ones.
pub(super) struct Context<'a, 'b> {
    resolver: &'b Resolver<'a>,
    key: usize,
    genus: Option<String>,
    /// Genera spelled out in this key so far.
    genera: Vec<String>,
    species: Option<String>,
    last: Option<String>,
}

impl<'a> Resolver<'a> {
    pub(super) fn new(raw: &'a [RawKey], taxa: &'a [Taxon], scopes: &'a [Scope]) -> Self {
        let mut by_genus: BTreeMap<String, Vec<TaxonId>> = BTreeMap::new();
        for taxon in taxa.iter().filter(|taxon| taxon.rank >= Rank::Species) {
            let genus = name::fold(&taxon.name).split(' ').next().unwrap_or_default().to_owned();
            by_genus.entry(genus).or_default().push(taxon.id);
        }
        let by_name = taxa.iter().rev().map(|taxon| (name::fold(&taxon.name), taxon.id)).collect();
        let by_synonym = taxa
            .iter()
            .rev()
            .flat_map(|taxon| taxon.synonyms.iter().map(|synonym| (name::fold(synonym), taxon.id)))
            .collect();
        let titles = raw
            .iter()
            .map(|key| key.title.as_ref().map(|title| name::fold(&title.plain)).unwrap_or_default())
            .collect();
        Self { taxa, scopes, by_name, by_synonym, by_genus, titles }
    }

    pub(super) fn context(&self, key: usize) -> Context<'a, '_> {
        let scope = self.scopes[key].name.as_deref();
        let known = self.scopes[key].id.map(|id| &self.taxa[id.index()]);
        let below_genus = known.map_or_else(
            || scope.is_some_and(|name| !name::is_family(name)),
            |taxon| taxon.rank >= Rank::Genus,
        );
        let genus = scope.filter(|_| below_genus).and_then(|name| name.split(' ').next()).map(str::to_owned);
        let species = known.filter(|taxon| taxon.rank >= Rank::Species).map(|taxon| taxon.name.clone());
        Context { resolver: self, key, genus, genera: Vec::new(), species, last: None }
    }

    /// A taxon by its name, or by one that differs by a misprint.
    fn taxon(&self, wanted: &str) -> Option<(TaxonId, bool)> {
        let folded = name::fold(wanted);
        if let Some(id) = self.by_name.get(&folded) {
            return Some((*id, !name::spelled_otherwise(wanted, &self.taxa[id.index()].name)));
        }
        // Eight families have two valid names (N3).
        let others = name::other_family_names(wanted);
        if let Some(id) = others.iter().find_map(|other| self.by_name.get(&name::fold(other))) {
            return Some((*id, false));
        }
        let (genus, rest) = folded.split_once(' ')?;
        let same_genus = self.by_genus.get(genus)?;
        // A missing connecting term matches any.
        let bare = |words: &str| {
            words
                .split(' ')
                .filter(|word| !matches!(*word, "subsp" | "var" | "f"))
                .collect::<Vec<_>>()
                .join(" ")
        };
        let without_term =
            same_genus.iter().find(|id| bare(&name::fold(&self.taxa[id.index()].name)) == bare(&folded));
        if let Some(id) = without_term {
            return Some((*id, true));
        }
        let near = same_genus.iter().find(|id| {
            let other = name::fold(&self.taxa[id.index()].name);
            other.split_once(' ').is_some_and(|(_, other)| {
                other.split(' ').count() == rest.split(' ').count()
                    && other.split(' ').zip(rest.split(' ')).all(|(one, two)| name::same_word(one, two))
            })
        })?;
        Some((*near, false))
    }

    /// A key whose title begins with the words: the nearest after the key at hand, else the nearest before.
    fn key(&self, words: &str, from: usize) -> Option<KeyId> {
        let wanted = name::fold(words);
        let fits = |at: &usize| {
            let title = &self.titles[*at];
            *at != from
                && (title == &wanted
                    || title
                        .strip_prefix(wanted.as_str())
                        .is_some_and(|rest| !rest.starts_with(char::is_alphanumeric)))
        };
        let after = (from + 1..self.titles.len()).find(fits);
        after.or_else(|| (0..from).rev().find(fits)).map(|at| KeyId(at as u32))
    }

    /// A key by the name that it divides; of several the one whose title is most like this key's own: a winter key leads
    /// to winter keys (K29).
    fn key_of(&self, words: &str, from: usize) -> Option<KeyId> {
        let wanted = name::fold(words);
        let own: Vec<&str> = self.titles[from].split(' ').collect();
        let shared = |at: &usize| self.titles[*at].split(' ').filter(|word| own.contains(word)).count();
        (0..self.scopes.len())
            .filter(|at| {
                *at != from && self.scopes[*at].name.as_ref().is_some_and(|name| name::fold(name) == wanted)
            })
            .rev()
            .max_by_key(shared)
            .map(|at| KeyId(at as u32))
    }
}

impl Context<'_, '_> {
    /// Resolves one named thing; the remark tells of a name that was matched though it differs.
    pub(super) fn resolve(&mut self, raw: &RawKey, named: &Named, own: usize) -> (Target, Option<String>) {
        let found = self.one(raw, named, own);
        if let Target::Taxon { name, .. } = &found.0 {
            self.last = Some(name.clone());
        }
        found
    }

    fn one(&mut self, raw: &RawKey, named: &Named, own: usize) -> (Target, Option<String>) {
        match named {
            Named::Number(number) => (self.number(raw, *number, own), None),
            Named::Couplet(place) => (Target::Couplet(CoupletId(*place as u32)), None),
            Named::Name { name, rank } => self.name(raw, name, *rank),
            Named::Epithet { term, epithet } => {
                let Some(full) = self.below(term, epithet) else {
                    return (Target::Unresolved(format!("{term} {epithet}").trim().to_owned()), None);
                };
                self.name(raw, &full, Rank::Species)
            }
            Named::Key(words) => (
                self.resolver
                    .key(words, self.key)
                    .map_or_else(|| Target::Unresolved(words.clone()), Target::Key),
                None,
            ),
            Named::Ditto(rest) => match self.again(rest) {
                Some(name) => self.name(raw, &name, Rank::Species),
                None => (Target::Unresolved(format!("Do. {rest}").trim().to_owned()), None),
            },
            Named::Other(words) => (self.other(words), None),
        }
    }

    fn number(&self, raw: &RawKey, number: u32, own: usize) -> Target {
        let couplet = raw
            .couplets
            .iter()
            .position(|couplet| couplet.series == Series::Number(number))
            .filter(|at| *at != own);
        if let Some(at) = couplet {
            return Target::Couplet(CoupletId(at as u32));
        }
        // Where couplets are letters, numbers are those of taxa (K22).
        let lettered =
            raw.couplets.iter().all(|couplet| matches!(couplet.series, Series::Letter(_) | Series::Bullet));
        let scope = self.resolver.scopes[self.key].id;
        let taxon = self.resolver.taxa.iter().find(|taxon| {
            taxon.parent == scope && taxon.number.as_deref() == Some(number.to_string().as_str())
        });
        match taxon.filter(|_| lettered) {
            Some(taxon) => Target::Taxon { name: taxon.name.clone(), id: Some(taxon.id) },
            None => Target::Unresolved(number.to_string()),
        }
    }

    /// The name above with its last parts changed: `Do. var. alba` after a species is a variety of it, `Do. alba` another
    /// species of its genus.
    fn again(&self, rest: &str) -> Option<String> {
        let last = self.last.as_ref()?;
        let lower = rest.to_lowercase();
        let mut words = lower.split_whitespace();
        let Some(first) = words.next() else { return Some(last.clone()) };
        match (words::connecting_term(first), words.next()) {
            (Some(term), Some(epithet)) => {
                let species: Vec<&str> = last.split(' ').take(2).collect();
                Some(format!("{} {term} {epithet}", species.join(" ")))
            }
            (None, None) => last.split(' ').next().map(|genus| format!("{genus} {first}")),
            (Some(_), None) | (None, Some(_)) => None,
        }
    }

    fn below(&self, term: &str, epithet: &str) -> Option<String> {
        if term.is_empty() {
            return self.genus.as_ref().map(|genus| format!("{genus} {epithet}"));
        }
        self.species.as_ref().map(|species| format!("{species} {term} {epithet}"))
    }

    fn name(&mut self, raw: &RawKey, printed: &str, rank: Rank) -> (Target, Option<String>) {
        let full = self.spelled_out(printed);
        if let Some((id, exact)) = self.resolver.taxon(&full) {
            let taxon = &self.resolver.taxa[id.index()];
            self.remember(&taxon.name.clone());
            let remark = (!exact).then(|| {
                format!(
                    "the key says “{printed}”, the heading “{}”; they were taken for one taxon",
                    taxon.name
                )
            });
            return (Target::Taxon { name: taxon.name.clone(), id: Some(id) }, remark);
        }
        let accepted = self.resolver.by_synonym.get(&name::fold(&full));
        if let Some(id) = accepted.filter(|id| !self.is_keyed(raw, **id)) {
            let taxon = &self.resolver.taxa[id.index()];
            self.remember(&full);
            let remark = format!(
                "the key says “{printed}”, which the book itself gives as a synonym of {}; it was taken for that",
                taxon.name
            );
            return (Target::Taxon { name: taxon.name.clone(), id: Some(*id) }, Some(remark));
        }
        self.remember(&full);
        if rank <= Rank::Genus
            && !full.contains(' ')
            && let Some(key) = self.resolver.key_of(&full, self.key)
        {
            return (Target::Key(key), None);
        }
        (Target::Taxon { name: full, id: None }, None)
    }

    /// Says whether a lead of the key ends in a taxon under its own name: what is keyed beside it is another plant, whatever
    /// its name was elsewhere.
    fn is_keyed(&self, raw: &RawKey, id: TaxonId) -> bool {
        let own = name::fold(&self.resolver.taxa[id.index()].name);
        raw.leads.iter().flat_map(|lead| &lead.target.named).any(|named| match named {
            Named::Name { name, .. } => name::fold(&self.spelled_out(name)) == own,
            Named::Number(_)
            | Named::Couplet(_)
            | Named::Epithet { .. }
            | Named::Ditto(_)
            | Named::Key(_)
            | Named::Other(_) => false,
        })
    }

    /// An abbreviated genus is the key's own, or the last spelled out in this key, or the only one that fits (N16).
    fn spelled_out(&self, printed: &str) -> String {
        let abbreviated =
            printed.trim_start_matches('×').split(' ').next().is_some_and(|genus| genus.ends_with('.'));
        if !abbreviated {
            return printed.to_owned();
        }
        let own = self.genus.iter().find_map(|genus| name::expand(printed, genus));
        if let Some(own) = own {
            return own;
        }
        let epithet = printed.split_once(' ').map(|(_, rest)| name::fold(rest)).unwrap_or_default();
        let initial = name::fold(printed).chars().next();
        let mut fitting = self.resolver.taxa.iter().filter(|taxon| {
            let folded = name::fold(&taxon.name);
            folded.chars().next() == initial
                && folded.split_once(' ').is_some_and(|(_, rest)| rest == epithet)
        });
        if let (Some(one), None) = (fitting.next(), fitting.next()) {
            return one.name.clone();
        }
        // Several genera begin so: it is the last of them that this key spelled out.
        let spelled = self.genera.iter().rev().find_map(|genus| name::expand(printed, genus));
        spelled.unwrap_or_else(|| printed.to_owned())
    }

    fn remember(&mut self, name: &str) {
        if self.resolver.scopes[self.key].name.as_deref().is_some_and(|scope| !name::is_family(scope)) {
            return;
        }
        let genus = name
            .trim_start_matches('×')
            .split(' ')
            .next()
            .filter(|genus| !genus.ends_with('.') && !name::is_family(genus));
        self.genera.extend(genus.map(str::to_owned));
        self.genus = genus.map(str::to_owned).or_else(|| self.genus.take());
    }

    /// Words that are no name: a key's title, a vernacular name, a family named among other words.
    fn other(&self, words: &str) -> Target {
        if let Some(key) = self.resolver.key(words, self.key) {
            return Target::Key(key);
        }
        let folded = name::fold(words);
        let vernacular = self
            .resolver
            .taxa
            .iter()
            .find(|taxon| taxon.vernacular.iter().any(|vernacular| name::fold(vernacular) == folded));
        if let Some(taxon) = vernacular {
            return Target::Taxon { name: taxon.name.clone(), id: Some(taxon.id) };
        }
        let inside = words
            .split([' ', ','])
            .filter(|word| name::is_family(word))
            .find_map(|word| self.resolver.by_name.get(&name::fold(word)));
        match inside {
            Some(id) => Target::Taxon { name: self.resolver.taxa[id.index()].name.clone(), id: Some(*id) },
            None => Target::Unresolved(words.to_owned()),
        }
    }
}
