//! The face of a finding on a terminal: the words at fault with found, needed and the way to mend it.
//!
//! The only file that names miette. Labels in other files become related parts of the report.

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode,
    SourceSpan, ThemeCharacters, ThemeStyles,
};

use super::{FileId, Files, Finding, Severity, Span};

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
    source: Option<NamedSource<String>>,
    labels: Vec<LabeledSpan>,
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

fn source_of(files: &Files, id: FileId) -> Option<NamedSource<String>> {
    let file = files.get(id)?;
    Some(NamedSource::new(file.name(), file.text().to_owned()))
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
    let mut others: Vec<(Span, Report)> = Vec::new();
    let mut asides = Vec::new();
    for label in &finding.labels {
        let here = label_at(label.span, label.text.clone(), false);
        // Two places far apart in one file would print every line between them.
        if near(files, finding.span, label.span) {
            labels.push(here);
        } else if let Some(words) = excerpt(files, label.span) {
            asides.push(format!(
                "  ☞ {} `{words}`: {}",
                files.place(label.span),
                label.text
            ));
        } else if let Some((_, part)) = others
            .iter_mut()
            .find(|(other, _)| near(files, *other, label.span))
        {
            part.labels.push(here);
        } else {
            others.push((
                label.span,
                Report {
                    message: if label.span.file == finding.span.file {
                        "the other place".to_owned()
                    } else {
                        format!("it rests on this line of {}", files.name(label.span.file))
                    },
                    code: None,
                    severity: miette::Severity::Advice,
                    help: None,
                    source: source_of(files, label.span.file),
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
        source: source_of(files, finding.span.file),
        labels,
    };
    let parts = std::iter::once(main)
        .chain(others.into_iter().map(|(_, part)| part))
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
        .with_context_lines(1)
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
