//! A coil at work: capacity from its table, leaving air, surface temperature, and the flow at which that would freeze.
//!
//! Altitude: the table's airflows are taken as standard air, 0.075 lb of dry air per ft³, so that thin air enters it
//! with its mass (the basis on which such tables are rated: AHRI Standard 210/240; from memory). Heat follows from
//! that mass and the wet bulb; how it splits, from the share of air that the coil touches, which is found at sea level,
//! where the table was made, and kept (bypass factor, ASHRAE Handbook—HVAC Systems and Equipment, coils). What thin air
//! does to the outdoor unit is not in it.

use super::super::psychrometrics::{MoistAir, NoSuchAir, standard_pressure};
use super::super::root::cross;
use super::apparatus::{COLDEST, apparatus, leaving_air, saturated_at_enthalpy};
use super::table::{Beyond, Capacity, CapacityTable};
use crate::quantity::{AirFlow, HeatFlow, HumidityRatio, Length, MassFlow, Temperature};

/// Pounds of dry air an hour in one cubic foot a minute of standard air.
pub(super) const STANDARD: f64 = 60.0 * 0.075;

/// Sensible and total heat this near are one.
const SAME: f64 = 1e-6;

/// Standard airflow that carries this much dry air.
pub fn standard_airflow(dry_air: MassFlow) -> AirFlow {
    AirFlow::new(dry_air.value() / STANDARD)
}

/// How a coil works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Regime {
    /// Water condenses; the table's own split into sensible and latent heat.
    Wet,
    /// Nothing condenses: the surface lies above the air's dew point.
    Dry,
    /// The airflow lies outside the table: the table's edge gives the total heat, and how much air the coil
    /// touches is carried on from there.
    Carried,
    /// The table asks for more than air can be: the leaving air is saturated at its heat content.
    Saturated,
}

/// What a coil does.
#[derive(Clone, Debug, PartialEq)]
pub struct CoilState {
    /// Sensible and latent heat together.
    pub total: HeatFlow,
    /// Sensible heat.
    pub sensible: HeatFlow,
    /// Air behind the coil.
    pub leaving: MoistAir,
    /// Water taken out.
    pub moisture: MassFlow,
    /// Temperature of the surface; none where the coil's line never meets saturation.
    pub surface: Option<Temperature>,
    /// Share of the air that passes untouched, where there is a surface.
    pub bypass: Option<f64>,
    /// How it works.
    pub regime: Regime,
    /// Variables that lie outside the table.
    pub beyond: Vec<Beyond>,
}

impl CoilState {
    /// Latent heat.
    pub fn latent(&self) -> HeatFlow {
        self.total - self.sensible
    }
}

/// Sensible heat between two states, with the water of the second.
fn sensible_of(entering: &MoistAir, leaving: &MoistAir, m: f64) -> f64 {
    let cp = 0.240 + 0.444 * leaving.humidity_ratio().value();
    m * cp * (entering.dry_bulb().value() - leaving.dry_bulb().value())
}

struct Inlet<'a> {
    table: &'a CapacityTable,
    entering: &'a MoistAir,
    wet_bulb: Temperature,
    outdoor: Temperature,
}

impl Inlet<'_> {
    fn capacity(&self, airflow: AirFlow, wet_bulb: Temperature) -> Capacity {
        self.table
            .at(airflow, self.outdoor, self.entering.dry_bulb(), wet_bulb)
    }

    fn state(
        &self,
        (leaving, total, regime): (MoistAir, f64, Regime),
        (surface, bypass): (Option<Temperature>, Option<f64>),
        dry_air: MassFlow,
        beyond: Vec<Beyond>,
    ) -> CoilState {
        let drop = self.entering.humidity_ratio() - leaving.humidity_ratio();
        CoilState {
            total: HeatFlow::new(total),
            sensible: HeatFlow::new(
                sensible_of(self.entering, &leaving, dry_air.value()).min(total),
            ),
            leaving,
            moisture: MassFlow::new(dry_air.value() * drop.value()),
            surface,
            bypass,
            regime,
            beyond,
        }
    }

    /// At an airflow that the table holds, or at its edge.
    fn inside(&self, dry_air: MassFlow, airflow: AirFlow) -> Result<CoilState, NoSuchAir> {
        let found = self.capacity(airflow, self.wet_bulb);
        if found.sensible.value() >= found.total.value() * (1.0 - SAME) {
            return self.dry(dry_air, airflow, found);
        }
        match leaving_air(self.entering, dry_air, found.total, found.sensible) {
            Ok(leaving) => {
                let surface = apparatus(self.entering, &leaving);
                Ok(self.state(
                    (leaving, found.total.value(), Regime::Wet),
                    (surface.map(|at| at.dew_point), surface.map(|at| at.bypass)),
                    dry_air,
                    found.beyond,
                ))
            }
            Err(NoSuchAir::Supersaturated(_) | NoSuchAir::HumidityRatio) => {
                let enthalpy =
                    self.entering.enthalpy().value() - found.total.value() / dry_air.value();
                let leaving =
                    self.no_wetter(saturated_at_enthalpy(self.entering, enthalpy)?, enthalpy)?;
                Ok(self.state(
                    (leaving, found.total.value(), Regime::Saturated),
                    (Some(leaving.dry_bulb()), Some(0.0)),
                    dry_air,
                    found.beyond,
                ))
            }
            Err(other) => Err(other),
        }
    }

    /// A coil adds no water: where the saturated state would be wetter than the air that enters, it stays dry.
    fn no_wetter(&self, leaving: MoistAir, enthalpy: f64) -> Result<MoistAir, NoSuchAir> {
        let ratio = self.entering.humidity_ratio();
        if leaving.humidity_ratio() <= ratio {
            return Ok(leaving);
        }
        let w = ratio.value();
        MoistAir::from_humidity_ratio(
            Temperature::new((enthalpy - 1061.0 * w) / (0.240 + 0.444 * w)),
            HumidityRatio::new(w),
            self.entering.pressure(),
        )
    }

    /// A dry coil does what it does with the wettest air that leaves it just dry: the capacity at the wet bulb at
    /// which the table's sensible and total heat are one.
    fn dry(
        &self,
        dry_air: MassFlow,
        airflow: AirFlow,
        found: Capacity,
    ) -> Result<CoilState, NoSuchAir> {
        let dry_bulb = self.entering.dry_bulb();
        let turns = cross(self.wet_bulb.value(), dry_bulb.value(), 1e-9, |wet| {
            let at = self.capacity(airflow, Temperature::new(wet));
            at.total.value() * (1.0 - SAME) - at.sensible.value()
        });
        let own = found.sensible.value() <= found.total.value() * (1.0 + SAME);
        // Where the table itself holds the dry coil, its figure stands.
        let total = if own {
            found.total.value()
        } else {
            let at = self.capacity(airflow, Temperature::new(turns));
            at.total.value().min(at.sensible.value())
        };
        let w = self.entering.humidity_ratio();
        let cp = 0.240 + 0.444 * w.value();
        let leaves = dry_bulb.value() - total / (dry_air.value() * cp);
        // Where even the driest coil would be colder than the dew point, water condenses after all.
        let leaving = match MoistAir::from_humidity_ratio(
            Temperature::new(leaves),
            w,
            self.entering.pressure(),
        ) {
            Err(NoSuchAir::Supersaturated(_)) => saturated_at_enthalpy(
                self.entering,
                self.entering.enthalpy().value() - total / dry_air.value(),
            )?,
            other => other?,
        };
        let surface =
            MoistAir::from_wet_bulb(dry_bulb, Temperature::new(turns), self.entering.pressure())?
                .dew_point()
                .filter(|surface| surface.value() < leaving.dry_bulb().value());
        let bypass = surface
            .map(|surface| (leaving.dry_bulb() - surface).value() / (dry_bulb - surface).value());
        Ok(self.state(
            (leaving, total, Regime::Dry),
            (surface, bypass),
            dry_air,
            found.beyond,
        ))
    }

    /// Away from where the table was made: its heat, at its edge where the airflow lies outside; and the share of air
    /// that passes untouched is b₀^(m₀/m), as for a surface that keeps its conductance.
    fn carried(
        &self,
        (kept, at_edge): (CoilState, MassFlow),
        dry_air: MassFlow,
        regime: Option<Regime>,
    ) -> Result<CoilState, NoSuchAir> {
        let total = kept.total.value();
        let m = dry_air.value();
        let base = kept.bypass.unwrap_or(0.0).clamp(0.0, 0.999);
        let bypass = libm::pow(base, at_edge / dry_air);
        let (t1, h1) = (
            self.entering.dry_bulb().value(),
            self.entering.enthalpy().value(),
        );
        let w1 = self.entering.humidity_ratio();
        let cp = 0.240 + 0.444 * w1.value();
        let enthalpy = h1 - total / m;
        let dry_surface = t1 - total / (m * cp) / (1.0 - bypass);
        let dew_point = self
            .entering
            .dew_point()
            .map_or(COLDEST, Temperature::value);
        let wet = dry_surface < dew_point;
        let (w2, surface) = if wet {
            let surface = saturated_at_enthalpy(self.entering, h1 - total / m / (1.0 - bypass))?;
            let w2 = surface.humidity_ratio() * (1.0 - bypass) + w1 * bypass;
            (w2, surface.dry_bulb())
        } else if dry_surface < COLDEST {
            return Err(NoSuchAir::Temperature);
        } else {
            (w1, Temperature::new(dry_surface))
        };
        let leaves = (enthalpy - 1061.0 * w2.value()) / (0.240 + 0.444 * w2.value());
        let leaving = match MoistAir::from_humidity_ratio(
            Temperature::new(leaves),
            w2,
            self.entering.pressure(),
        ) {
            Err(NoSuchAir::Supersaturated(_)) => saturated_at_enthalpy(self.entering, enthalpy)?,
            other => other?,
        };
        let own = if wet { Regime::Wet } else { Regime::Dry };
        Ok(self.state(
            (leaving, total, regime.unwrap_or(own)),
            (Some(surface), Some(bypass)),
            dry_air,
            kept.beyond,
        ))
    }

    /// The air that enters, as it would be at sea level with the same two thermometers.
    fn at_sea_level(&self) -> Result<MoistAir, NoSuchAir> {
        let pressure = standard_pressure(Length::ZERO).ok_or(NoSuchAir::Boils)?;
        let dry_bulb = self.entering.dry_bulb();
        match MoistAir::from_wet_bulb(dry_bulb, self.wet_bulb, pressure) {
            Err(NoSuchAir::WetBulbBelow(_)) => {
                MoistAir::from_humidity_ratio(dry_bulb, HumidityRatio::new(0.0), pressure)
            }
            other => other,
        }
    }

    fn at(&self, dry_air: MassFlow) -> Result<CoilState, NoSuchAir> {
        let airflow = standard_airflow(dry_air);
        let (least, most) = self.table.airflows();
        let edge = AirFlow::new(airflow.value().clamp(least.value(), most.value()));
        let outside = edge != airflow;
        let sea = self.at_sea_level()?;
        if !outside && (sea.pressure() / self.entering.pressure() - 1.0).abs() < 1e-9 {
            return self.inside(dry_air, airflow);
        }
        let at_edge = if outside {
            MassFlow::new(edge.value() * STANDARD)
        } else {
            dry_air
        };
        let mut kept = Inlet {
            entering: &sea,
            ..*self
        }
        .inside(at_edge, edge)?;
        kept.beyond = self.capacity(airflow, self.wet_bulb).beyond;
        self.carried((kept, at_edge), dry_air, outside.then_some(Regime::Carried))
    }
}

/// A coil with air entering at `entering`, `dry_air` of it, and the air outdoors at `outdoor`.
pub fn working(
    table: &CapacityTable,
    entering: &MoistAir,
    dry_air: MassFlow,
    outdoor: Temperature,
) -> Result<CoilState, NoSuchAir> {
    Inlet {
        table,
        entering,
        wet_bulb: entering.wet_bulb(),
        outdoor,
    }
    .at(dry_air)
}
