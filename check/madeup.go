package check

import (
	"fmt"
	"math"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// The rules about what motifs are made up into.

// drawsIn is the share of the stitches and chains that an edge asks for below
// which a border draws it in for all to see. Common practice, no source: hems
// and openings are drawn in by a tenth or so on purpose.
const drawsIn = 0.75

// borderScant reports the first round of a border that has far fewer stitches
// and chains than its edge. On a straight edge as many lie flat, and at every
// corner twice the width of the border more, or at an inner corner fewer.
func borderScant(p *Pass) {
	panel := p.Graph.Panel()
	if panel == nil {
		return
	}
	told := map[notation.EdgeName]bool{} // the two edges of a tube are alike
	for _, b := range p.Graph.Borders() {
		if told[b.Name] {
			continue
		}
		told[b.Name] = true
		edge := b.Graph.StitchesAndChains(0, b.Graph.Foundation())
		corners := 0
		for _, part := range panel.Edges[b.Edge].Parts {
			switch part.Then {
			case model.Outwards:
				corners++
			case model.Inwards:
				corners--
			}
		}
		width := 0.0
		for i, r := range b.Graph.Rounds() {
			if r.Status != model.Worked || edge == 0 {
				break
			}
			width += newRim(b.Graph, &p.shape().gauge.Dimensions, i).height()
			made, need := b.Graph.StitchesAndChains(r.First, r.First+r.Len), float64(edge)+2*width*float64(corners)
			if float64(made) >= drawsIn*need {
				continue
			}
			p.Add(Finding{Span: r.Statement.Head, Round: r.Number, Edge: b.Name, Message: fmt.Sprintf(
				"round %d has %d stitches and chains, on an edge of %d: the border draws it in to about %.0f %% of its length; with about %.0f it would lie as it is; work into each stitch and chain of the edge, or allow it where it is meant",
				r.Number, made, edge, 100*float64(made)/need, need)})
			break
		}
	}
}

// neckSmall reports a wrap whose neck does not pass over any of the heads of
// those it is for. It needs a gauge, and to be told who that is.
func neckSmall(p *Pass) {
	line := p.Draft.Panel()
	wrap := line != nil && (line.Kind == notation.PanelWrap || line.Kind == notation.PanelWrapOnPoint)
	if p.Graph.Panel() == nil || !wrap || p.Draft.For() == notation.WearerUnsaid || p.Draft.Gauge() == nil || p.faulty() {
		return
	}
	made := size.MadeUpOf(p.Draft, p.Graph)
	var neck size.Estimate[size.Length]
	for _, d := range made.Sizes {
		if d.What == size.NeckRound {
			neck = d.Size
		}
	}
	var least size.BodyFit // the head that is nearest to passing
	for _, f := range made.Fits {
		switch {
		case f.Part != size.Head:
		case f.Fits:
			return
		case least.Part == "" || f.Ease > least.Ease:
			least = f
		}
	}
	if least.Part == "" || !neck.Known() {
		return
	}
	f := Finding{Span: line.Span}
	will := "does not pass"
	if neck.High >= least.Most {
		f.Severity = notation.Info
		will = "may not pass"
	}
	// As far as its border draws it in, that is the cure.
	open, border := neck.Expected, ""
	for _, b := range made.Borders {
		if b.Edge != notation.EdgeOfNeck || b.EdgePlaces == 0 || b.RimPlaces == 0 {
			continue
		}
		if drawn := float64(b.RimPlaces) / float64(b.EdgePlaces); drawn < drawsIn {
			open, border = neck.Expected/size.Length(drawn), "work more stitches in its border"
		}
	}
	cure := "make the motifs larger"
	if line.Neck > 0 {
		most := 0
		for _, s := range p.Graph.Panel().Seams {
			most = max(most, 2*s.A.To, 2*s.B.To)
		}
		if n := 2 * int(math.Ceil(float64(line.Neck)*float64(least.Most/open)/2)); n < most {
			cure = fmt.Sprintf("leave more of the seam open: neck %d st", n)
		}
	}
	switch {
	case border != "" && open >= least.Most:
		cure = border
	case border != "":
		cure = border + ", and " + cure
	}
	f.Message = fmt.Sprintf("the neck is %s round, and %s over the smallest head of those it is for, %s (%s); %s",
		neck.Text(notation.Centimetre), will, least.Most.Text(notation.Centimetre), least.Size, cure)
	p.Add(f)
}
