package check

import (
	"io"
	"net/url"
	"path"
	"strings"

	"example.com/roundel/notation"
)

// The names of SARIF are those of the standard: Static Analysis Results
// Interchange Format (SARIF) Version 2.1.0, OASIS Standard, 2020. Section
// numbers below are of that text.

type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool struct {
			Driver sarifDriver `json:"driver"`
		} `json:"tool"`
		ColumnKind string        `json:"columnKind"`
		Results    []sarifResult `json:"results"`
	}
	sarifDriver struct {
		Name  string      `json:"name"`
		Rules []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID      string       `json:"id"`
		Short   sarifText    `json:"shortDescription"`
		Full    *sarifText   `json:"fullDescription,omitempty"`
		Help    *sarifText   `json:"help,omitempty"`
		Default sarifDefault `json:"defaultConfiguration"`
	}
	sarifDefault struct {
		Level string `json:"level"`
	}
	// A sarifText is a multiformatMessageString (3.12) or a message (3.11).
	sarifText struct {
		Text     string `json:"text"`
		Markdown string `json:"markdown,omitempty"`
	}
	sarifResult struct {
		RuleID       string             `json:"ruleId"`
		RuleIndex    int                `json:"ruleIndex"` // -1 for a rule that is not listed (3.27.6)
		Level        string             `json:"level"`
		Message      sarifText          `json:"message"`
		Locations    []sarifLocation    `json:"locations"`
		Related      []sarifLocation    `json:"relatedLocations,omitempty"`
		Fixes        []sarifFix         `json:"fixes,omitempty"`
		Suppressions []sarifSuppression `json:"suppressions,omitempty"`
	}
	sarifLocation struct {
		ID       int           `json:"id,omitempty"`
		Physical sarifPhysical `json:"physicalLocation"`
		Message  *sarifText    `json:"message,omitempty"`
	}
	sarifPhysical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
		Region   sarifRegion   `json:"region"`
	}
	sarifArtifact struct {
		URI  string `json:"uri"`
		Base string `json:"uriBaseId,omitempty"`
	}
	// A sarifRegion is a stretch of text; its end is the place after its last
	// character (3.30.2).
	sarifRegion struct {
		StartLine   int `json:"startLine"`
		StartColumn int `json:"startColumn"`
		EndLine     int `json:"endLine"`
		EndColumn   int `json:"endColumn"`
	}
	sarifFix struct {
		Description sarifText     `json:"description"`
		Changes     []sarifChange `json:"artifactChanges"`
	}
	sarifChange struct {
		Artifact     sarifArtifact      `json:"artifactLocation"`
		Replacements []sarifReplacement `json:"replacements"`
	}
	sarifReplacement struct {
		Deleted  sarifRegion `json:"deletedRegion"`
		Inserted *sarifText  `json:"insertedContent,omitempty"`
	}
	sarifSuppression struct {
		Kind          string         `json:"kind"`
		Justification string         `json:"justification,omitempty"`
		Location      *sarifLocation `json:"location,omitempty"`
	}
)

// WriteSARIF writes reports as one run in the Static Analysis Results
// Interchange Format, version 2.1.0, which services that show findings beside
// the changed lines read. rules are those the drafts were checked by; nil
// stands for Rules().
//
// Results stand in the order of the reports and of the text. What a draft
// allows is a result too, suppressed, with the reason of its allow line. A
// report's File becomes a relative URI, based on what the reader calls
// %SRCROOT%: it should be a path from the root of the sources. Columns count
// characters (unicodeCodePoints). Of the fixes, those that are not certain are
// for the reader to choose from; their descriptions say so.
func WriteSARIF(w io.Writer, rules []Rule, reports ...*Report) error {
	if rules == nil {
		rules = Rules()
	}
	run := sarifRun{ColumnKind: "unicodeCodePoints", Results: []sarifResult{}}
	run.Tool.Driver = sarifDriver{Name: "roundel", Rules: []sarifRule{}}
	index := map[string]int{}
	for i, r := range rules {
		index[r.ID] = i
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, ruleAsSARIF(r))
	}
	for _, r := range reports {
		s := sarifReport{Report: r, artifact: artifactOf(r.File), index: index}
		if len(r.Allowed) > 0 && r.Draft != nil {
			s.exceptions = exceptionsIn(r.Draft)
		}
		run.Results = append(run.Results, s.results()...)
	}
	return writeJSON(w, sarifLog{
		Schema:  "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
		Version: "2.1.0",
		Runs:    []sarifRun{run},
	})
}

func ruleAsSARIF(r Rule) sarifRule {
	out := sarifRule{ID: r.ID, Short: sarifText{Text: r.Summary}, Default: sarifDefault{sarifLevel(r.severity())}}
	if out.Short.Text == "" {
		out.Short.Text = r.ID
	}
	if r.Doc.Text == "" {
		return out
	}
	out.Full = &sarifText{Text: r.Doc.Text}
	var text, markdown strings.Builder
	part := func(title, draft string) {
		if draft != "" {
			text.WriteString("\n\n" + title + ":\n\n" + draft)
			markdown.WriteString("\n\n" + title + ":\n\n```\n" + draft + "```")
		}
	}
	text.WriteString(r.Doc.Text)
	markdown.WriteString(r.Doc.Text)
	part("A draft that breaks the rule", r.Doc.Failing)
	part("The same, mended", r.Doc.Passing)
	if r.Doc.Fix != "" {
		text.WriteString("\n\nroundel check -fix: " + r.Doc.Fix + ".")
		markdown.WriteString("\n\n`roundel check -fix`: " + r.Doc.Fix + ".")
	}
	out.Help = &sarifText{Text: text.String(), Markdown: markdown.String()}
	return out
}

// sarifLevel is the level of a severity (3.27.10).
func sarifLevel(s notation.Severity) string {
	switch s {
	case notation.Error:
		return "error"
	case notation.Warning:
		return "warning"
	}
	return "note"
}

// artifactOf is where a file is: relative to the root of the sources, unless
// its path is absolute.
func artifactOf(file string) sarifArtifact {
	file = strings.ReplaceAll(file, `\`, "/")
	drive := len(file) > 2 && file[1] == ':' && file[2] == '/'
	switch {
	case drive:
		return sarifArtifact{URI: (&url.URL{Scheme: "file", Path: "/" + file}).String()}
	case strings.HasPrefix(file, "/"):
		return sarifArtifact{URI: (&url.URL{Scheme: "file", Path: file}).String()}
	}
	// A colon in the first part would read as a scheme; url.URL sees to that.
	return sarifArtifact{URI: (&url.URL{Path: path.Clean(file)}).String(), Base: "%SRCROOT%"}
}

// A sarifReport writes one report.
type sarifReport struct {
	*Report
	artifact   sarifArtifact
	index      map[string]int // of rules
	exceptions *exceptions
}

// results lists the findings and, among them, what is allowed.
func (s *sarifReport) results() []sarifResult {
	var out []sarifResult
	allowed := s.Allowed
	for _, f := range s.Findings {
		for len(allowed) > 0 && allowed[0].Span.Start.Offset < f.Span.Start.Offset {
			out = append(out, s.suppressed(allowed[0]))
			allowed = allowed[1:]
		}
		out = append(out, s.result(f))
	}
	for _, f := range allowed {
		out = append(out, s.suppressed(f))
	}
	return out
}

func (s *sarifReport) result(f Finding) sarifResult {
	out := sarifResult{
		RuleID: f.Rule, RuleIndex: -1, Level: sarifLevel(f.Severity),
		Message: message(f.Text()), Locations: []sarifLocation{s.location(f.Span)},
	}
	if i, ok := s.index[f.Rule]; ok {
		out.RuleIndex = i
	}
	for i, rel := range f.Related {
		at := s.location(rel.Span)
		words := message(rel.Message)
		at.ID, at.Message = i+1, &words
		out.Related = append(out.Related, at)
	}
	for _, fix := range f.Fixes {
		change := sarifChange{Artifact: s.artifact, Replacements: []sarifReplacement{}}
		for _, e := range fix.Edits {
			r := sarifReplacement{Deleted: region(e.Span)}
			if e.New != "" {
				r.Inserted = &sarifText{Text: e.New}
			}
			change.Replacements = append(change.Replacements, r)
		}
		text := fix.Message
		if !fix.Certain {
			text = "perhaps: " + text
		}
		out.Fixes = append(out.Fixes, sarifFix{Description: message(text), Changes: []sarifChange{change}})
	}
	return out
}

// message writes braces twice, as one alone begins a placeholder (3.11.5).
func message(text string) sarifText {
	return sarifText{Text: strings.NewReplacer("{", "{{", "}", "}}").Replace(text)}
}

// suppressed is a finding that the draft allows (3.35).
func (s *sarifReport) suppressed(f Finding) sarifResult {
	out := s.result(f)
	by := sarifSuppression{Kind: "inSource"} // and accepted, as nothing else is said
	if s.exceptions != nil {
		if a := s.exceptions.covering(f); a != nil {
			by.Justification = a.Reason
			at := s.location(a.Span)
			by.Location = &at
		}
	}
	out.Suppressions = []sarifSuppression{by}
	return out
}

func (s *sarifReport) location(at notation.Span) sarifLocation {
	return sarifLocation{Physical: sarifPhysical{s.artifact, region(at)}}
}

// region is never empty of numbers: a finding without a place is about the
// beginning of the draft.
func region(s notation.Span) sarifRegion {
	if !s.Start.IsValid() {
		return sarifRegion{1, 1, 1, 1}
	}
	end := s.End
	if !end.IsValid() {
		end = s.Start
	}
	return sarifRegion{s.Start.Line, s.Start.Column, end.Line, end.Column}
}
