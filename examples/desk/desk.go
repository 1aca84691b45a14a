package main

import (
	"bytes"
	"context"
	"embed"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"log"
	"maps"
	"net/http"
	"slices"
	"strings"
	"time"

	"example.com/roundel/check"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/chart"
	"example.com/roundel/size/pattern"
)

// What one request may cost: the length of a draft is bounded by the limit of
// package notation, its size by stitches, and the work by time.
const (
	maxForm  = 3*notation.DefaultBytes + 1024 // a form escapes a byte as three
	workTime = 5 * time.Second
)

//go:embed page.html desk.css desk.js
var files embed.FS

var page = template.Must(template.ParseFS(files, "page.html"))

// A view is what the page shows.
type view struct {
	Draft  string
	Result *result // nil before the first check
}

// handler serves the page, its style and its script, and works drafts.
func handler(first string) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		render(w, "page", view{Draft: first})
	})
	mux.HandleFunc("POST /{$}", func(w http.ResponseWriter, r *http.Request) {
		if draft, ok := posted(w, r); ok {
			// A fix that belongs to another draft is not made; the page shows
			// what is found now.
			draft, _ = mend(r.Context(), draft, r.PostForm.Get("fix"))
			render(w, "page", view{draft, work(r.Context(), draft)})
		}
	})
	mux.HandleFunc("POST /fix", serveMended)
	// The script asks for the right half of the page only.
	mux.HandleFunc("POST /result", func(w http.ResponseWriter, r *http.Request) {
		if draft, ok := posted(w, r); ok {
			render(w, "result", work(r.Context(), draft))
		}
	})
	for _, name := range []string{"desk.css", "desk.js"} {
		mux.HandleFunc("GET /"+name, func(w http.ResponseWriter, r *http.Request) {
			http.ServeFileFS(w, r, files, name)
		})
	}
	return guarded(mux)
}

// guarded tells the browser to load nothing from elsewhere, and to let no
// other site send drafts here.
func guarded(next http.Handler) http.Handler {
	protected := http.NewCrossOriginProtection().Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src data:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'self'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		protected.ServeHTTP(w, r)
	})
}

// posted reads the draft of a form; without one it answers itself.
func posted(w http.ResponseWriter, r *http.Request) (draft string, ok bool) {
	r.Body = http.MaxBytesReader(w, r.Body, maxForm)
	if err := r.ParseForm(); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			http.Error(w, "the draft is too long", http.StatusRequestEntityTooLarge)
		} else {
			http.Error(w, "the form cannot be read", http.StatusBadRequest)
		}
		return "", false
	}
	// A browser sends lines that end in CR LF.
	return strings.ReplaceAll(r.PostForm.Get("draft"), "\r\n", "\n"), true
}

func render(w http.ResponseWriter, name string, data any) {
	var out bytes.Buffer
	if err := page.ExecuteTemplate(&out, name, data); err != nil {
		log.Print(err)
		http.Error(w, "the page cannot be made", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	out.WriteTo(w)
}

// A result is what roundel makes of a draft.
type result struct {
	Title    string
	Trouble  string // why there is no result
	Findings []finding
	Rounds   []row
	Symmetry string
	Borders  []border
	Mend     *offer // all fixes that are certain, nil for none
	// What a draft with errors does not have:
	Chart   template.URL // the picture itself, as a data URL
	Size    string
	Pattern *pattern.Pattern
}

type finding struct {
	Severity, Message, Rule string
	Line, Column            int
	From, To                int // in the text as the browser counts it
	Fixes                   []offer
}

type row struct {
	check.Round
	Made, Reach string
	Colour      string // of the yarn, "" where the draft gives none
}

func options() (o check.Options) {
	o.Work.Stitches = 200_000
	return o
}

// A border is the rounds on one edge of what motifs are made up into.
type border struct {
	check.Border
	Rows []row
}

// work checks a draft and gathers everything there is to show.
func work(ctx context.Context, text string) *result {
	ctx, cancel := context.WithTimeout(ctx, workTime)
	defer cancel()
	report, err := check.Source(ctx, "draft", text, options())
	if err != nil {
		return &result{Trouble: "The draft takes too long to work."}
	}
	out := &result{Title: report.Graph.Title, Symmetry: symmetry(report)}
	sure := 0
	for i, f := range report.Findings {
		if _, ok := f.Fix(); ok {
			sure++
		}
		out.Findings = append(out.Findings, finding{
			Severity: f.Severity.String(), Message: f.Text(), Rule: f.Rule,
			Line: f.Span.Start.Line, Column: f.Span.Start.Column,
			From: units(text, f.Span.Start.Offset), To: units(text, f.Span.End.Offset),
			Fixes: offers(text, i, f),
		})
	}
	if sure > 0 {
		out.Mend = &offer{fixName(text, certain), fmt.Sprintf("Mend what is certain (%d)", sure), true}
	}
	colours := map[string]string{}
	for y := range report.Draft.Yarns() {
		colours[y.Name.Text] = y.Colour
	}
	rows := func(rounds []check.Round) (list []row) {
		for _, r := range rounds {
			made := row{Round: r, Made: made(r.Stitches, report.Draft.Terms), Colour: colours[r.Yarn]}
			if r.FromCentre > 0 {
				made.Reach = fmt.Sprintf("%.1f cm", r.FromCentre.In(notation.Centimetre))
			}
			if r.Depth > 0 {
				made.Reach = fmt.Sprintf("%.1f cm along the fabric", r.Depth.In(notation.Centimetre))
			}
			list = append(list, made)
		}
		return list
	}
	out.Rounds = rows(check.RoundTable(report))
	for _, b := range check.BorderTables(report) {
		out.Borders = append(out.Borders, border{b, rows(b.Rounds)})
	}
	if report.Worst() < notation.Error && report.Graph.NumRounds() > 0 {
		out.publish(ctx, report)
	}
	return out
}

// publish adds what is made of a draft that comes out as written.
func (r *result) publish(ctx context.Context, report *check.Report) {
	sheet, err := size.NewSheet(ctx, report.Draft, report.Graph)
	if err != nil {
		r.Trouble = "The draft takes too long to measure."
		return
	}
	var page strings.Builder
	check.WriteSheet(&page, report, sheet, check.Metric)
	_, r.Size, _ = strings.Cut(page.String(), "\n\n") // below the title
	var picture bytes.Buffer
	if err := chart.Stitches(&picture, report.Draft, report.Graph, chart.Options{Colour: true, Symbols: 10_000}); err == nil {
		// Base 64 holds nothing that could end the URL.
		r.Chart = template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(picture.Bytes()))
	}
	r.Pattern = pattern.New(report.Draft, report.Graph, sheet, report.Draft.Terms)
}

func made(stitches map[string]int, terms notation.Terms) string {
	var parts []string
	for _, name := range slices.Sorted(maps.Keys(stitches)) {
		parts = append(parts, fmt.Sprintf("%d %s", stitches[name], terms.Name(name)))
	}
	return strings.Join(parts, ", ")
}

func symmetry(r *check.Report) string {
	if r.Graph.NumRounds() == 0 {
		return ""
	}
	s := r.Graph.Symmetry()
	mirror := "but not in a mirror"
	if s.Mirror {
		mirror = "and in a mirror"
	}
	if s.Rotation == 1 {
		return "Not the same on all sides, " + mirror + "."
	}
	return fmt.Sprintf("The same %d times round, %s.", s.Rotation, mirror)
}

// units converts a place in a text from bytes to what a browser counts in:
// units of UTF-16.
func units(text string, offset int) int {
	n := 0
	for _, r := range text[:min(max(offset, 0), len(text))] {
		if n++; r > 0xFFFF {
			n++
		}
	}
	return n
}
