//! The index itself: built in a folder or in memory as one segment, opened, and asked.

use std::fmt;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, OnceLock, PoisonError};

use tantivy::collector::{Count, DocSetCollector, TopDocs};
use tantivy::directory::{Directory, MmapDirectory, RamDirectory};
use tantivy::schema::{
    Field, IndexRecordOption, STORED, STRING, Schema, TextFieldIndexing, TextOptions, Value,
};
use tantivy::{IndexReader, ReloadPolicy, SingleSegmentIndexWriter, TantivyDocument, TantivyError};

use crate::describe::Fact;
use crate::model::{Flora, TaxonId};
use crate::search::alike::{self, Alike};
use crate::search::answer::{Answer, Narrow};
use crate::search::document::{self, Document, Weight};
use crate::search::question::{self, Facts};
use crate::search::table::{self, Table};
use crate::search::words::{self, TOKENIZER, Words};
use crate::search::{Error, Hit, ask, names, sentence};
use crate::terms::Lexicon;

/// What the field `weight` holds of a document that tells something.
pub(crate) const TELLING: &str = "telling";

/// Bytes that the words table is laid out for while indexing; the measured need of a flora of 30,000 treatments.
const BUDGET: usize = 64 << 20;

/// Hits that are looked through for other places than taxa.
const LOOKED_THROUGH: usize = 60;

/// The file with the table of facts.
const FACTS: &str = "facts";

/// An index that is open.
pub struct Index {
    reader: IndexReader,
    fields: Fields,
    /// Where the table of facts lies; none for an index in memory.
    dir: Option<PathBuf>,
    /// The table, once it was needed.
    facts: OnceLock<Facts>,
    /// The table until it was needed, where it is read or made already.
    table: Mutex<Option<Table>>,
}

/// The fields of the index.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fields {
    /// All words of a document.
    pub(crate) text: Field,
    /// The words of its names.
    pub(crate) names: Field,
    /// Each of its names as one word.
    pub(crate) whole: Field,
    /// Whether it tells something.
    pub(crate) weight: Field,
    /// The document, for showing.
    stored: Field,
}

/// Builds the index of a flora in a folder, in place of one that is there.
pub fn build(dir: &Path, flora: &Flora) -> Result<(), Error> {
    let disk = |source: io::Error| Error::Disk { path: dir.to_owned(), source };
    let beside = dir.with_extension("new");
    for folder in [&beside, dir] {
        match fs::remove_dir_all(folder) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(disk(error)),
            Ok(()) | Err(_) => {}
        }
    }
    fs::create_dir_all(&beside).map_err(disk)?;
    let engine = |source| Error::Engine { path: dir.to_owned(), source };
    let directory = MmapDirectory::open(&beside).map_err(|error| engine(error.into()))?;
    write(directory, flora).map_err(engine)?;
    let mut bytes = table::MAGIC.to_vec();
    bytes.extend(postcard::to_stdvec(&Table::of(flora)).map_err(|_| Error::Damaged)?);
    fs::write(beside.join(FACTS), bytes).map_err(disk)?;
    fs::rename(&beside, dir).map_err(disk)
}

impl Index {
    /// Opens the index in a folder.
    pub fn open(dir: &Path) -> Result<Self, Error> {
        let missing = || Error::Missing { path: dir.to_owned() };
        let engine = |source| Error::Engine { path: dir.to_owned(), source };
        if !dir.is_dir() {
            return Err(missing());
        }
        let directory = MmapDirectory::open(dir).map_err(|error| engine(error.into()))?;
        if !tantivy::Index::exists(&directory).map_err(|error| engine(error.into()))? {
            return Err(missing());
        }
        let index = tantivy::Index::open(directory).map_err(engine)?;
        if index.schema() != schema().0 {
            return Err(missing());
        }
        let facts = dir.join(FACTS);
        if !begins_with_magic(&facts) {
            return Err(missing());
        }
        Ok(Self { dir: Some(facts), ..Self::over(&index).map_err(engine)? })
    }

    /// Builds an index in memory.
    pub fn in_memory(flora: &Flora) -> Result<Self, Error> {
        let engine = |source| Error::Engine { path: "memory".into(), source };
        let index = write(RamDirectory::create(), flora).map_err(engine)?;
        let own = Self::over(&index).map_err(engine)?;
        Ok(Self { table: Mutex::new(Some(Table::of(flora))), ..own })
    }

    /// Answers a question that is put as a description (`leaves opposite; petals 5, yellow`) or names a taxon.
    pub fn answer(
        &self,
        typed: &str,
        narrow: &Narrow,
        most: usize,
        lexicon: &Lexicon,
    ) -> Result<Answer, Error> {
        question::answer(self, self.facts(lexicon)?, typed, (narrow, most), lexicon)
    }

    /// Returns the taxa whose descriptions are nearest to these facts of one, `most` of them, and behind them those of
    /// `also`, each with the characters in which they agree.
    pub fn alike(
        &self,
        taxon: (TaxonId, &[Fact]),
        others: (&[TaxonId], usize),
        lexicon: &Lexicon,
    ) -> Result<Vec<Alike>, Error> {
        Ok(alike::alike(self.facts(lexicon)?, taxon, others))
    }

    /// Returns the districts that the flora names.
    pub fn districts(&self, lexicon: &Lexicon) -> Result<Vec<String>, Error> {
        Ok(self.facts(lexicon)?.table.districts().map(str::to_owned).collect())
    }

    /// Says whether a taxon has this name, whole.
    pub fn has_taxon(&self, name: &str, lexicon: &Lexicon) -> Result<bool, Error> {
        Ok(names::is_whole(&self.facts(lexicon)?.table, name))
    }

    /// Returns the names of higher taxa that are spelled most like this one; where none is, those of the families.
    pub fn taxa_like(&self, name: &str, lexicon: &Lexicon) -> Result<Vec<String>, Error> {
        Ok(names::like(&self.facts(lexicon)?.table, name))
    }

    /// Reads the table of facts ahead of the first question, which may be got ready meanwhile.
    pub fn warm(&self) -> Result<(), Error> {
        let mut table = self.table.lock().unwrap_or_else(PoisonError::into_inner);
        if table.is_none() && self.facts.get().is_none() {
            *table = self.read()?;
        }
        Ok(())
    }

    /// Returns the table of facts, read when it is first asked for.
    fn facts(&self, lexicon: &Lexicon) -> Result<&Facts, Error> {
        if let Some(facts) = self.facts.get() {
            return Ok(facts);
        }
        // Whoever else asks meanwhile waits here and then finds the facts made.
        let mut table = self.table.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(facts) = self.facts.get() {
            return Ok(facts);
        }
        let own = match table.take() {
            Some(own) => own,
            None => self.read()?.unwrap_or_default(),
        };
        Ok(self.facts.get_or_init(|| Facts::new(own, lexicon)))
    }

    /// Reads the table of an index in a folder.
    fn read(&self) -> Result<Option<Table>, Error> {
        let Some(path) = &self.dir else { return Ok(None) };
        let bytes = fs::read(path).map_err(|source| Error::Disk { path: path.clone(), source })?;
        let body = bytes.strip_prefix(table::MAGIC).ok_or(Error::Damaged)?;
        postcard::from_bytes(body).map(Some).map_err(|_| Error::Damaged)
    }

    /// Returns the taxa whose texts hold the words, as [`Self::find`] has it, without their sentences.
    ///
    /// Taxa are written first and in one segment, so the number of such a document is that of its taxon.
    pub(crate) fn taxa_with(&self, words: &str, taxa: usize) -> Result<Vec<TaxonId>, Error> {
        let wants = ask::wants(words);
        let searcher = self.reader.searcher();
        if wants.is_empty() || searcher.num_docs() == 0 {
            return Ok(Vec::new());
        }
        let engine = |source| Error::Engine { path: "the search index".into(), source };
        let found = searcher.search(&ask::query(&wants, &self.fields), &DocSetCollector).map_err(engine)?;
        let mut ids: Vec<u32> = found.into_iter().map(|address| address.doc_id).collect();
        ids.retain(|id| (*id as usize) < taxa);
        ids.sort_unstable();
        Ok(ids.into_iter().map(TaxonId).collect())
    }

    /// Says whether any text holds the words.
    pub(crate) fn holds(&self, words: &str) -> Result<bool, Error> {
        let wants = ask::wants(words);
        let searcher = self.reader.searcher();
        if wants.is_empty() || searcher.num_docs() == 0 {
            return Ok(false);
        }
        let engine = |source| Error::Engine { path: "the search index".into(), source };
        let count = searcher.search(&ask::query(&wants, &self.fields), &Count).map_err(engine)?;
        Ok(count > 0)
    }

    /// Returns the best hits for the words typed: all must occur, quoted ones in their order, the last may be unfinished.
    pub fn find(&self, words: &str, most: usize) -> Result<Vec<Hit>, Error> {
        self.hits(words, most, |_| true)
    }

    /// Returns the best hits that are no taxa, of which the flora has so many.
    ///
    /// Taxa are written first and in one segment, so they are known by their numbers, before anything is read of them.
    pub(crate) fn elsewhere(&self, words: &str, taxa: usize, most: usize) -> Result<Vec<Hit>, Error> {
        let mut hits = self.hits(words, LOOKED_THROUGH, |id| id as usize >= taxa)?;
        hits.truncate(most);
        Ok(hits)
    }

    /// Returns those of the best hits whose numbers are wanted.
    fn hits(&self, words: &str, most: usize, wanted: impl Fn(u32) -> bool) -> Result<Vec<Hit>, Error> {
        let wants = ask::wants(words);
        let searcher = self.reader.searcher();
        // The engine (0.27.0) panics on a prefix asked of a segment without documents.
        if wants.is_empty() || most == 0 || searcher.num_docs() == 0 {
            return Ok(Vec::new());
        }
        let engine = |source| Error::Engine { path: "the search index".into(), source };
        let top = TopDocs::with_limit(most).order_by_score();
        let found = searcher.search(&ask::query(&wants, &self.fields), &top).map_err(engine)?;
        let mut hits = Vec::new();
        for (_, address) in found.into_iter().filter(|(_, address)| wanted(address.doc_id)) {
            let stored: TantivyDocument = searcher.doc(address).map_err(engine)?;
            let bytes =
                stored.get_first(self.fields.stored).and_then(|value| value.as_bytes()).unwrap_or_default();
            let document: Document = postcard::from_bytes(bytes).map_err(|_| Error::Damaged)?;
            let (snippet, page) = sentence::best(&document.pieces, &wants);
            hits.push(Hit { what: document.what, title: document.title, snippet, page });
        }
        Ok(hits)
    }

    /// Returns an index that answers out of `index`, which must have our schema.
    fn over(index: &tantivy::Index) -> Result<Self, TantivyError> {
        // The policy by default watches the folder from a thread of its own; an index of ours never changes.
        let reader = index.reader_builder().reload_policy(ReloadPolicy::Manual).try_into()?;
        let (facts, table) = (OnceLock::new(), Mutex::default());
        Ok(Self { reader, fields: schema().1, dir: None, facts, table })
    }
}

impl fmt::Debug for Index {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Index").field("documents", &self.reader.searcher().num_docs()).finish_non_exhaustive()
    }
}

/// Says whether a table of facts was written by this version.
fn begins_with_magic(path: &Path) -> bool {
    let mut begin = vec![0; table::MAGIC.len()];
    let read = fs::File::open(path).and_then(|mut file| file.read_exact(&mut begin));
    read.is_ok() && begin == table::MAGIC
}

/// Returns the schema and its fields.
fn schema() -> (Schema, Fields) {
    let indexing = TextFieldIndexing::default()
        .set_tokenizer(TOKENIZER)
        .set_index_option(IndexRecordOption::WithFreqsAndPositions);
    let words = TextOptions::default().set_indexing_options(indexing);
    let mut schema = Schema::builder();
    let fields = Fields {
        text: schema.add_text_field("text", words.clone()),
        names: schema.add_text_field("names", words),
        whole: schema.add_text_field("whole", STRING),
        weight: schema.add_text_field("weight", STRING),
        stored: schema.add_bytes_field("stored", STORED),
    };
    (schema.build(), fields)
}

/// Writes all documents of a flora as one segment.
fn write(directory: impl Into<Box<dyn Directory>>, flora: &Flora) -> Result<tantivy::Index, TantivyError> {
    let (schema, fields) = schema();
    let tokenizers = tantivy::tokenizer::TokenizerManager::default();
    tokenizers.register(TOKENIZER, Words);
    let builder = tantivy::Index::builder().schema(schema).tokenizers(tokenizers);
    let mut writer: SingleSegmentIndexWriter = builder.single_segment_index_writer(directory, BUDGET)?;
    for document in document::documents(flora) {
        writer.add_document(stored(&document, &fields)?)?;
    }
    writer.finalize()
}

/// Returns what the index gets to see of a document.
fn stored(document: &Document, fields: &Fields) -> Result<TantivyDocument, TantivyError> {
    let mut stored = TantivyDocument::default();
    for name in &document.names {
        stored.add_text(fields.names, name);
        stored.add_text(fields.text, name);
        stored.add_text(fields.whole, words::joined(name));
    }
    for piece in &document.pieces {
        stored.add_text(fields.text, &piece.text);
    }
    match document.weight {
        Weight::Telling => stored.add_text(fields.weight, TELLING),
        Weight::Listing => {}
    }
    let bytes =
        postcard::to_stdvec(document).map_err(|error| TantivyError::InternalError(error.to_string()))?;
    stored.add_bytes(fields.stored, &bytes);
    Ok(stored)
}
