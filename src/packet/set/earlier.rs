//! The packet that stands where the new one goes: what its `packet.json` says of an earlier revision.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde_json::{Map, Value, json};

use crate::packet::page::{Packet, Since};
use crate::packet::text::Words;

/// Larger than any packet; what is larger is not read.
const MOST_BYTES: u64 = 64_000_000;

/// Pages of a revision by id, with their printed digests.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Earlier {
    revision: String,
    pages: BTreeMap<String, String>,
}

impl Earlier {
    fn read(value: &Value) -> Option<Self> {
        let pages = value.get("pages")?.as_object()?;
        Some(Self {
            revision: value.get("revision")?.as_str()?.to_owned(),
            pages: pages
                .iter()
                .map(|(id, digest)| Some((id.clone(), digest.as_str()?.to_owned())))
                .collect::<Option<_>>()?,
        })
    }

    /// The pages of the packet itself.
    fn of_packet(value: &Value) -> Option<Self> {
        let pages = value.get("pages")?.as_array()?;
        Some(Self {
            revision: value
                .get("job")?
                .get("revision_plain")?
                .as_str()?
                .to_owned(),
            pages: pages
                .iter()
                .map(|page| {
                    let text = |key| Some(page.get(key)?.as_str()?.to_owned());
                    Some((text("id")?, text("digest")?))
                })
                .collect::<Option<_>>()?,
        })
    }

    /// The revision before this one that the folder tells of: its own, or, when it holds this very revision,
    /// the one that it was compared with. None for another job, another version, or no packet at all.
    pub(super) fn of_folder(folder: &Path, packet: &Packet<'_>, words: &Words) -> Option<Self> {
        let path = folder.join("packet.json");
        let small = fs::metadata(&path).is_ok_and(|about| about.len() <= MOST_BYTES);
        let text = small.then(|| fs::read_to_string(&path).ok())??;
        let value: Value = serde_json::from_str(&text).ok()?;
        let job = &packet.job;
        let same =
            |key: &str, now: String| value.get("job")?.get(key)?.as_str().map(|was| was == now);
        let ours = value.get("tool")? == "bayrun"
            && value.get("version")? == env!("CARGO_PKG_VERSION")
            && same("title_plain", job.title.plain(words))?
            && same("number_plain", job.number.plain(words))?;
        if !ours {
            return None;
        }
        let stands = Self::of_packet(&value)?;
        if stands.revision == job.revision.plain(words) {
            Self::read(value.get("earlier")?)
        } else {
            Some(stands)
        }
    }

    /// In the words of the job's own list of revisions; none when the list does not hold it.
    pub(super) fn since(&self, packet: &Packet<'_>, words: &Words) -> Option<Since> {
        let (mark, date) = packet
            .job
            .revisions
            .iter()
            .find(|(mark, _)| mark.plain(words) == self.revision)?;
        Some(Since {
            mark: mark.clone(),
            date: date.clone(),
            pages: self.pages.clone(),
        })
    }

    /// What the new `packet.json` keeps of it.
    pub(super) fn json(&self) -> Value {
        let pages: Map<String, Value> = self
            .pages
            .iter()
            .map(|(id, digest)| (id.clone(), json!(digest)))
            .collect();
        json!({ "revision": self.revision, "pages": pages })
    }
}
