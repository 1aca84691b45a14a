package main

import (
	"strings"
	"testing"
)

// chart draws a picture to standard output or to a file; of a faulty draft it
// draws what there is, and tells what is wrong.
func TestChart(t *testing.T) {
	drafts(t, "a.rnd", clean, "b.rnd", faulty)
	svg := call(t, "", "chart", "a.rnd")
	svg.want(t, 0, `^<svg .*<title id="title">Saltmarsh</title>.*>dc</text>.*</svg>\n$`, "")
	call(t, "", "chart", "-o", "a.svg", "a.rnd").want(t, 0, "", "")
	if text(t, "a.svg") != svg.out {
		t.Error("-o writes another picture")
	}
	call(t, clean, "chart", "-").want(t, 0, `</svg>`, "")
	call(t, "", "chart", "-terms", "uk", "a.rnd").want(t, 0, `>tr</text>`, "")
	call(t, "", "chart", "-terms", "both", "a.rnd").want(t, 0, `>dc \(US\), tr \(UK\)</text>`, "")
	call(t, "", "chart", "-picture", "plan", "a.rnd").want(t, 0, `<title id="title">Colours of Saltmarsh</title>.*</svg>`, "")
	call(t, "", "chart", "-picture", "growth", "a.rnd").want(t, 0, `<title id="title">Growth of Saltmarsh</title>.*</svg>`, "")
	call(t, "", "chart", "b.rnd").want(t, 1, `</svg>`, `b\.rnd:3:.*claim-count\]\nroundel: b\.rnd has errors: the picture shows what could be worked\n$`)
	call(t, "", "chart", "-o", "no/such/place.svg", "b.rnd").want(t, 2, "", `claim-count.*roundel: open no/such/place\.svg`)
	call(t, "", "chart", "-symbols", "10", "a.rnd").want(t, 2, "",
		`^roundel: a\.rnd: the chart would have 13 symbols, more than the 10 allowed; -symbols sets how many\n$`)
	if d := call(t, "ring\nrnd 1: 60000 dc in ring\n", "chart", "-"); d.status != 2 || !strings.Contains(d.err, "more than the 50000 allowed") {
		t.Errorf("status %d, %s", d.status, d.err)
	}
}
