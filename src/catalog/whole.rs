//! All that the catalogs of a job hold, read file by file and merged.

use super::air_handler::AirHandler;
use super::check::check;
use super::ductwork::{Adapter, Grille, Orifice, Outlet, TakeOff, TrunkFitting, TrunkPipe, Tube};
use super::equipment::{
    Boiler, Chiller, Circulator, Filter, FloatSwitch, OutdoorUnit, Relay, Thermostat, WaterCoil,
};
use super::node::{Node, Value};
use super::reading::{Field, Reading};
use super::record::record;
use super::shelf::Shelf;
use super::stated::Stated;
use super::stock::{Cable, Fastener, Hanger, Pan, Pipe, PipeFitting, Pump, Sealant};
use super::yaml::tree;
use crate::source::{FileId, Finding, Span};

record! {
    /// A catalog file: equipment of one family, or stock. Every group may be left out.
    Catalog, "a catalog" {
        /// What the file is and where its figures come from.
        about: Option<Stated<String>>,
        /// Air handlers by model.
        air_handlers: Shelf<AirHandler>,
        /// Outdoor units by model.
        outdoor_units: Shelf<OutdoorUnit>,
        /// Hot-water coils by model.
        water_coils: Shelf<WaterCoil>,
        /// Boilers by model.
        boilers: Shelf<Boiler>,
        /// Chillers by model.
        chillers: Shelf<Chiller>,
        /// Circulators by model.
        circulators: Shelf<Circulator>,
        /// Thermostats by model.
        thermostats: Shelf<Thermostat>,
        /// Relays by model.
        relays: Shelf<Relay>,
        /// Float switches by model.
        float_switches: Shelf<FloatSwitch>,
        /// Trunk pipe by name.
        trunk_pipes: Shelf<TrunkPipe>,
        /// Trunk fittings by name.
        trunk_fittings: Shelf<TrunkFitting>,
        /// Adapters by name.
        adapters: Shelf<Adapter>,
        /// Tubes to outlets by name.
        tubes: Shelf<Tube>,
        /// Take-off collars by name.
        take_offs: Shelf<TakeOff>,
        /// Outlets by name.
        outlets: Shelf<Outlet>,
        /// Balancing orifices by name.
        orifices: Shelf<Orifice>,
        /// Pipe and tubing by name: drain, water, refrigerant.
        pipes: Shelf<Pipe>,
        /// Pipe fittings by name.
        pipe_fittings: Shelf<PipeFitting>,
        /// Cables by name.
        cables: Shelf<Cable>,
        /// Hangers by name.
        hangers: Shelf<Hanger>,
        /// Condensate pumps by name.
        pumps: Shelf<Pump>,
        /// Pans by name.
        pans: Shelf<Pan>,
        /// Sealants and joining materials by name.
        sealants: Shelf<Sealant>,
        /// Fasteners by name.
        fasteners: Shelf<Fastener>,
        /// Filters by name.
        filters: Shelf<Filter>,
        /// Return grilles by name.
        grilles: Shelf<Grille>,
        + /// Whether a file named by the job could not be read: a name that is not here may be in it.
        gaps: bool = false,
    }
}

impl Default for Catalog {
    fn default() -> Self {
        Self::absent(Span::new(FileId::own(0), 0, 0))
    }
}

/// Reads one catalog file. Mistakes are added to `findings`; what is sound is in the catalog all the same.
pub fn read(file: FileId, text: &str, findings: &mut Vec<Finding>) -> Catalog {
    let mut own = Vec::new();
    let catalog = match tree(file, text, &mut own) {
        Some(node) => {
            let mut reading = Reading::new(file, text, &mut own);
            let mut catalog = Catalog::read(&node, &mut reading);
            catalog.gaps |= lacks_a_group(&node, &own);
            catalog
        }
        None => Catalog {
            gaps: true,
            ..Catalog::absent(Span::new(file, 0, 0))
        },
    };
    check(&catalog, &mut own);
    findings.append(&mut own);
    catalog
}

/// Whether a whole group of the file was misread: its key or its shape.
fn lacks_a_group(node: &Node, findings: &[Finding]) -> bool {
    let Value::Map(groups) = &node.value else {
        return true;
    };
    findings.iter().any(|finding| {
        groups
            .iter()
            .any(|(key, value)| finding.span == key.span || finding.span == value.span)
    })
}

macro_rules! names_of {
    ($self:ident: $($shelf:ident)+) => {{
        let mut names: Vec<&str> = Vec::new();
        $(names.extend($self.$shelf.keys().map(String::as_str));)+
        names
    }};
}

macro_rules! merge_all {
    ($self:ident, $other:ident, $findings:ident: $($shelf:ident)+) => {
        $($self.$shelf.merge(&$other.$shelf, $findings);)+
    };
}

impl Catalog {
    /// The names of everything that is bought by the length, the coil or the pack.
    pub fn stock_names(&self) -> Vec<&str> {
        names_of!(self: trunk_pipes trunk_fittings adapters tubes take_offs outlets orifices pipes
            pipe_fittings cables hangers pumps pans sealants fasteners filters grilles)
    }

    /// Adds what `other` holds. A name that both hold is a finding with both places; the first keeps it.
    pub fn merge(&mut self, other: &Self, findings: &mut Vec<Finding>) {
        self.gaps |= other.gaps;
        merge_all!(self, other, findings:
            air_handlers outdoor_units water_coils boilers chillers circulators thermostats relays
            float_switches trunk_pipes trunk_fittings adapters tubes take_offs outlets orifices
            pipes pipe_fittings cables hangers pumps pans sealants fasteners filters grilles);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::{Face, Files, SourceFile, render};

    fn report(text: &str) -> (Catalog, String) {
        let mut files = Files::default();
        let id = files.add(SourceFile::new("shop.yaml", text, None));
        let mut findings = Vec::new();
        let catalog = read(id, text, &mut findings);
        for finding in &findings {
            assert!(finding.span.end as usize <= text.len());
        }
        (catalog, render(&files, &findings, Face::default()))
    }

    #[test]
    fn a_bad_field_costs_that_field_and_points_at_its_words() {
        let text = "\u{feff}# a shop é\ncables:\n  14/2 with ground:\n    use: power\n    conductors: 2\n    gauge: \"14 AWG\"\n    \
                    ground: yes\n    colours: [black, white]\n    rated: 194 F\n    volts: 600 V\n    coil: \"250 cfm\"\n    prise: $98.00\n";
        let (catalog, report) = report(text);
        let cable = catalog.cables.get("14/2 with ground").unwrap();
        assert_eq!(
            cable.conductors.get(),
            Some(super::super::Count(2)),
            "{report}"
        );
        assert_eq!(
            cable.coil.reason(),
            Some("the catalog's value is not readable")
        );
        assert!(report.contains("[shop.yaml:11:12]"), "{report}");
        assert!(report.contains("write `price`"), "{report}");
        assert_eq!(report.matches("error CAT").count(), 2, "{report}");
    }

    #[test]
    fn a_value_behind_an_anchor_reports_once_and_keeps_both_places() {
        let text = "fasteners:\n  a: &a\n    what: screw\n    length: 2 cfm\n    price: $1.00\n    \
                    pack: 10\n  b: *a\n  c:\n    <<: *a\n    length: 1 in\n";
        let (catalog, report) = report(text);
        assert_eq!(report.matches("error CAT").count(), 1, "{report}");
        let of = |name: &str| catalog.fasteners.get(name).unwrap();
        assert_eq!(of("b").price.get(), Some(super::super::Price(100)));
        assert!(of("c").length.get().is_some());
        assert_ne!(of("a").span, of("b").span);
    }

    #[test]
    fn text_that_is_no_yaml_is_one_finding() {
        for text in [
            "",
            "a: [1\nb: 2\n",
            "a: \"x\n",
            "a:\n\tb: 2\n",
            "a: *nope\n",
            "- 1",
            "[[[[",
            "a: &a [*a]",
            "\u{0}",
            "--- 1\n--- 2",
        ] {
            let (_, report) = report(text);
            assert_eq!(report.matches("error CAT").count(), 1, "{text:?}\n{report}");
        }
    }
}
