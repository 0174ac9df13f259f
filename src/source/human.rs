//! The face of a finding on a terminal: the words at fault with found, needed and the way to mend it.
//!
//! The only file that names miette. Labels in other files become related parts of the report.

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError,
    MietteSpanContents, SourceCode, SourceSpan, SpanContents, ThemeCharacters, ThemeStyles,
};

use super::{Files, Finding, Severity, Span};

/// How reports are drawn: set by the caller, never by the surroundings, so that tests see what users see.
#[derive(Clone, Copy, Debug)]
pub struct Face {
    /// Columns to fill.
    pub width: usize,
    /// Whether to use colour.
    pub colour: bool,
}

impl Default for Face {
    fn default() -> Self {
        Self {
            width: 100,
            colour: false,
        }
    }
}

#[derive(Debug)]
struct Report {
    message: String,
    code: Option<String>,
    severity: miette::Severity,
    help: Option<String>,
    source: Option<Lines>,
    labels: Vec<LabeledSpan>,
}

/// The lines of a file around what a report shows; the drawing counts through all of a text at every label.
#[derive(Debug)]
struct Lines {
    name: String,
    text: String,
    /// Bytes of the file before them.
    start: usize,
    /// Lines of the file before them.
    before: usize,
}

/// Lines drawn above and below those with a label.
const CONTEXT: usize = 1;

impl Lines {
    /// The lines around `spans`, all of one file.
    fn around(files: &Files, spans: &[Span]) -> Option<Self> {
        let file = files.get(spans.first()?.file)?;
        let text = file.text();
        let first = spans.iter().map(|span| span.start).min()? as usize;
        let last = spans.iter().map(|span| span.end).max()? as usize;
        let (above, below) = (text.get(..first)?, text.get(last..)?);
        // One line more than is drawn, so that the drawing finds an end to the outermost.
        let start = above.rmatch_indices('\n').nth(CONTEXT + 1);
        let start = start.map_or(0, |(at, _)| at + 1);
        let end = below.match_indices('\n').nth(CONTEXT + 1);
        let end = end.map_or(text.len(), |(at, _)| last + at + 1);
        Some(Self {
            name: file.name().to_owned(),
            text: text.get(start..end)?.to_owned(),
            start,
            before: text.get(..start)?.matches('\n').count(),
        })
    }
}

impl SourceCode for Lines {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let shift = |at: usize, len: usize| SourceSpan::from((at, len));
        let at = span.offset().checked_sub(self.start);
        let here = shift(at.ok_or(MietteError::OutOfBounds)?, span.len());
        let found = self.text.as_bytes().read_span(&here, before, after)?;
        let range = found.span();
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            found.data(),
            shift(range.offset() + self.start, range.len()),
            found.line() + self.before,
            found.column(),
            found.line_count(),
        )))
    }
}

impl std::fmt::Display for Report {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Report {}

impl Diagnostic for Report {
    fn code<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        self.code
            .as_ref()
            .map(|c| Box::new(c) as Box<dyn std::fmt::Display>)
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(self.severity)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        self.help
            .as_ref()
            .map(|h| Box::new(h) as Box<dyn std::fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.source.as_ref().map(|s| s as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }
}

fn label_at(span: Span, text: String, primary: bool) -> LabeledSpan {
    let range = SourceSpan::from((span.start as usize, span.len() as usize));
    let text = (!text.is_empty()).then_some(text);
    if primary {
        LabeledSpan::new_primary_with_span(text, range)
    } else {
        LabeledSpan::new_with_span(text, range)
    }
}

/// Whether two places stand close enough to be shown in one piece.
fn near(files: &Files, a: Span, b: Span) -> bool {
    a.file == b.file && files.position(a).line.abs_diff(files.position(b).line) <= 3
}

/// Lines longer than this are not drawn whole beside a finding that merely rests on them.
const LONG_LINE: usize = 110;

/// The entry of a long line that a place stands in: its key and value.
fn excerpt(files: &Files, span: Span) -> Option<String> {
    let text = files.get(span.file)?.text();
    let before = text.get(..span.start as usize)?;
    let line = before.rfind('\n').map_or(0, |n| n + 1);
    let end = text
        .get(span.end as usize..)?
        .find('\n')
        .map_or(text.len(), |n| n + span.end as usize);
    if text.get(line..end)?.chars().count() <= LONG_LINE {
        return None;
    }
    let start = before
        .get(line..)?
        .rfind([',', '{', '['])
        .map_or(line, |n| line + n + 1);
    Some(text.get(start..span.end as usize)?.trim().to_owned())
}

/// The report on a finding, and one more for each other file that it points into.
fn reports(files: &Files, finding: &Finding) -> (Vec<Report>, Vec<String>) {
    let severity = match finding.severity {
        Severity::Error => miette::Severity::Error,
        Severity::Warning => miette::Severity::Warning,
        Severity::Advice => miette::Severity::Advice,
    };
    let first = finding
        .measured
        .as_ref()
        .map_or_else(String::new, |(found, needed)| {
            format!(
                "found {}, needed {} {}",
                found.text,
                needed.relation.words(),
                needed.shown.text
            )
        });
    let mut labels = vec![label_at(finding.span, first, true)];
    let mut places = vec![finding.span];
    let mut others: Vec<(Vec<Span>, Report)> = Vec::new();
    let mut asides = Vec::new();
    for label in &finding.labels {
        let here = label_at(label.span, label.text.clone(), false);
        // Two places far apart in one file would print every line between them.
        if near(files, finding.span, label.span) {
            labels.push(here);
            places.push(label.span);
        } else if let Some(words) = excerpt(files, label.span) {
            asides.push(format!(
                "  ☞ {} `{words}`: {}",
                files.place(label.span),
                label.text
            ));
        } else if let Some((places, part)) = others.iter_mut().find(|(places, _)| {
            let first = places.first();
            first.is_some_and(|first| near(files, *first, label.span))
        }) {
            part.labels.push(here);
            places.push(label.span);
        } else {
            others.push((
                vec![label.span],
                Report {
                    message: if label.span.file == finding.span.file {
                        "the other place".to_owned()
                    } else {
                        format!("it rests on this line of {}", files.name(label.span.file))
                    },
                    code: None,
                    severity: miette::Severity::Advice,
                    help: None,
                    source: None,
                    labels: vec![here],
                },
            ));
        }
    }
    let waived = if finding.waived.is_some() {
        ", waived"
    } else {
        ""
    };
    let main = Report {
        message: finding.message.clone(),
        code: Some(format!(
            "{}{waived} {}: {}",
            finding.severity.word(),
            finding.kind.code,
            finding.kind.title
        )),
        severity,
        help: Some(match &finding.waived {
            Some(reason) => format!("waived because {reason}"),
            None => finding.help.clone(),
        }),
        source: Lines::around(files, &places),
        labels,
    };
    let parts = std::iter::once(main)
        .chain(others.into_iter().map(|(places, part)| Report {
            source: Lines::around(files, &places),
            ..part
        }))
        .collect();
    (parts, asides)
}

/// Draws `findings` one below the other.
pub fn render(files: &Files, findings: &[Finding], face: Face) -> String {
    let theme = GraphicalTheme {
        characters: ThemeCharacters::unicode(),
        styles: if face.colour {
            ThemeStyles::ansi()
        } else {
            ThemeStyles::none()
        },
    };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(face.width.max(40))
        .with_links(false)
        .with_context_lines(CONTEXT)
        .tab_width(4);
    let mut out = String::new();
    for finding in findings {
        let (parts, asides) = reports(files, finding);
        for report in parts {
            if handler.render_report(&mut out, &report).is_err() {
                // Only a failing writer can get here, and a String does not fail; the plain words still count.
                out.push_str(&finding.message);
            }
        }
        for aside in asides {
            out.push_str(&aside);
            out.push('\n');
        }
        out.push('\n');
    }
    let trimmed: Vec<&str> = out.lines().map(str::trim_end).collect();
    trimmed.join("\n").trim_end().to_owned() + if findings.is_empty() { "" } else { "\n" }
}
