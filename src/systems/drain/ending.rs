//! Sizes of port and pipe, and how the drain ends.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Drain, Model};
use crate::quantity::{Dimension, Length, read_all};
use crate::source::Spanned;

/// Least air gap (IPC 802.3.1).
const LEAST_GAP: Length = Length::INCH;

/// The outlet of a pan, by its stock item.
fn pan_outlet(model: &Model, catalog: &Catalog, drain: &Drain, pan: &str) -> Figure {
    let id = format!("drain.{}.port-size", drain.name);
    let formula = "trade size of the pan's outlet";
    let item = model.pans.get(pan).and_then(|pan| pan.item.as_ref());
    let sheet = item.and_then(|item| catalog.pans.get(&item.value));
    match sheet.and_then(|sheet| Some((sheet.drain.get()?, sheet.drain.span))) {
        Some((size, span)) => Figure::length(id, size)
            .source("the stock's catalog")
            .place(span, "drain"),
        None => Figure::unknown(id, "the size of the pan's outlet is not known")
            .place(drain.port.span, drain.port.value.clone()),
    }
    .formula(formula)
}

fn port_size(model: &Model, catalog: &Catalog, drain: &Drain) -> Figure {
    if let Some(pan) = &drain.pan {
        return pan_outlet(model, catalog, drain, pan);
    }
    let id = format!("drain.{}.port-size", drain.name);
    let formula = "trade size of the unit's drain port";
    let port = model.air_handlers.get(&drain.unit).and_then(|unit| {
        let name = drain.port.value.split_once('.')?.1;
        unit.sheet.ports.named(name)
    });
    let Some(port) = port else {
        return Figure::unknown(id, "the port is not known").formula(formula);
    };
    match port.size.get() {
        Some(size) => Figure::length(id, size.across()).source("the equipment's catalog"),
        None => Figure::unknown(id, port.size.reason().unwrap_or("not given")),
    }
    .formula(formula)
    .place(port.size.span, "size")
}

/// The trade size of a pipe: the catalog's, else the one that its name begins with (`1/2 in PVC`).
pub fn pipe_size(catalog: &Catalog, pipe: &str) -> Option<Length> {
    if let Some(stock) = catalog.pipes.get(pipe) {
        return stock.size.get();
    }
    let (size, _) = pipe.split_once(" in ")?;
    read_all(&format!("{size} in"), Dimension::Length)
        .ok()?
        .length()
}

/// A measure of the catalog's pipe, or why it is not known.
fn of_pipe(
    catalog: &Catalog,
    id: String,
    formula: &str,
    pipe: Option<&Spanned<String>>,
    measure: impl Fn(&crate::catalog::Pipe) -> crate::catalog::Stated<Length>,
) -> Figure {
    let Some(pipe) = pipe else {
        return Figure::unknown(id, "the pipe is not stated").formula(formula);
    };
    let figure = match catalog.pipes.get(&pipe.value).map(measure) {
        Some(stated) => match stated.get() {
            Some(length) => Figure::length(id, length).source("the stock's catalog"),
            None => Figure::unknown(id, stated.reason().unwrap_or("not given")),
        }
        .place(stated.span, pipe.value.clone()),
        None => Figure::unknown(
            id,
            format!("no catalog of the job holds a pipe `{}`", pipe.value),
        ),
    };
    figure.formula(formula).place(pipe.span, "pipe")
}

/// Enters the air gap that the end of a drain or of a pump's tube needs.
pub(super) fn gap(
    catalog: &Catalog,
    thing: &str,
    pipe: Option<&Spanned<String>>,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("{thing}.{what}");
    ledger.enter(of_pipe(
        catalog,
        id("opening"),
        "inside diameter of the last pipe",
        pipe,
        |pipe| pipe.inside.clone(),
    ));
    let needed = match ledger.length(&id("opening")) {
        Some(opening) => Figure::length(id("air-gap-needed"), LEAST_GAP.max(opening * 2)),
        None => Figure::unknown(
            id("air-gap-needed"),
            "the pipe's inside diameter is not known",
        ),
    };
    ledger.enter(
        needed
            .formula("twice the opening at its end, and no less than 1 in")
            .input(id("opening"))
            .source("IPC 802.3.1 (number from memory)"),
    );
}

/// Enters the figures of port, pipes and end.
pub(super) fn enter(model: &Model, catalog: &Catalog, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    ledger.enter(port_size(model, catalog, drain));
    let named = drain
        .pipe
        .as_ref()
        .filter(|pipe| !catalog.pipes.contains_key(&pipe.value))
        .and_then(|pipe| Some((pipe, pipe_size(catalog, &pipe.value)?)));
    ledger.enter(match named {
        Some((pipe, size)) => Figure::length(id("pipe-size"), size)
            .formula("trade size that the pipe's name begins with; no catalog of the job holds it")
            .place(pipe.span, "pipe"),
        None => of_pipe(
            catalog,
            id("pipe-size"),
            "trade size of the first pipe",
            drain.pipe.as_ref(),
            |pipe| pipe.size.clone(),
        ),
    });
    let last = drain.legs.last().and_then(|leg| leg.pipe.as_ref());
    gap(
        catalog,
        &format!("drain.{}", drain.name),
        last.or(drain.pipe.as_ref()),
        ledger,
    );
    let Some(ending) = &drain.ending else {
        return;
    };
    ledger.enter(
        Figure::text(id("end"), ending.to.value.clone())
            .formula("where the water goes, as given")
            .place(ending.to.span, "discharge"),
    );
    if let Some(how) = &ending.how {
        ledger.enter(
            Figure::text(id("end-joint"), how.value.clone())
                .formula("how the drain ends, as given")
                .place(how.span, how.value.clone()),
        );
    }
    if let Some(distance) = ending.distance {
        ledger.enter(
            Figure::length(id("air-gap"), distance.value)
                .formula("height of the gap, as given")
                .place(distance.span, "gap"),
        );
    }
}
