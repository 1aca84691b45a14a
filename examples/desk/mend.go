package main

import (
	"context"
	"fmt"
	"hash/crc32"
	"io"
	"net/http"

	"example.com/roundel/check"
	"example.com/roundel/notation"
)

// An offer is a fix that the page shows as a button. Its name says which draft
// it belongs to, so that it is never made in another.
type offer struct {
	Name, Text string
	Certain    bool
}

// certain names the fixes that need no choice, all together.
const certain = "certain"

// offers lists the fixes of the i-th finding of a draft.
func offers(draft string, i int, f check.Finding) []offer {
	var list []offer
	for k, fix := range f.Fixes {
		list = append(list, offer{fixName(draft, fmt.Sprintf("%d.%d", i, k)), fix.Message, fix.Certain})
	}
	return list
}

func fixName(draft, which string) string {
	return fmt.Sprintf("%08x-%s", crc32.ChecksumIEEE([]byte(draft)), which)
}

// mend makes the fix of a name in a draft; ok is false when it belongs to
// another draft.
func mend(ctx context.Context, draft, name string) (mended string, ok bool) {
	ctx, cancel := context.WithTimeout(ctx, workTime)
	defer cancel()
	if name == fixName(draft, certain) {
		fixed, err := check.Fix(ctx, "draft", draft, options())
		return fixed.Text, err == nil
	}
	report, err := check.Source(ctx, "draft", draft, options())
	if err != nil {
		return draft, false
	}
	for i, f := range report.Findings {
		for k, o := range offers(draft, i, f) {
			if o.Name == name {
				mended, err := notation.ApplyEdits(draft, f.Fixes[k].Edits...)
				return mended, err == nil
			}
		}
	}
	return draft, false
}

// serveMended answers the script with the mended draft.
func serveMended(w http.ResponseWriter, r *http.Request) {
	draft, ok := posted(w, r)
	if !ok {
		return
	}
	mended, ok := mend(r.Context(), draft, r.PostForm.Get("fix"))
	if !ok {
		http.Error(w, "the draft has changed since", http.StatusConflict)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	io.WriteString(w, mended)
}
