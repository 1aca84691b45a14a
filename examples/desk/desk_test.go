package main

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/roundel/notation"
)

func serve(t *testing.T, draft string) *httptest.Server {
	t.Helper()
	s := httptest.NewServer(handler(draft))
	t.Cleanup(s.Close)
	return s
}

// answer returns the status, the head and the body of an answer.
func answer(t *testing.T, r *http.Request) (*http.Response, string) {
	t.Helper()
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp, string(body)
}

func post(t *testing.T, to, draft string, head ...string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest("POST", to, strings.NewReader(url.Values{"draft": {draft}}.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	for i := 0; i < len(head); i += 2 {
		r.Header.Set(head[i], head[i+1])
	}
	return answer(t, r)
}

func get(t *testing.T, url string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest("GET", url, nil)
	if err != nil {
		t.Fatal(err)
	}
	return answer(t, r)
}

const wrong = "ring\nrnd 1: 12 dc in ring = 13 dc # <b>&\n"

func TestPage(t *testing.T) {
	s := serve(t, wrong)
	resp, body := get(t, s.URL)
	if !strings.Contains(body, "12 dc in ring = 13 dc # &lt;b&gt;&amp;") {
		t.Errorf("the page does not hold the draft:\n%s", body)
	}
	if policy := resp.Header.Get("Content-Security-Policy"); !strings.Contains(policy, "default-src 'none'") {
		t.Errorf("policy %q", policy)
	}
	if at := regexp.MustCompile(`(?:src|href)="(?:https?:)?//[^"]*"`).FindString(body); at != "" {
		t.Errorf("the page loads something from elsewhere: %s", at)
	}
	for _, name := range []string{"desk.js", "desk.css"} {
		if resp, body := get(t, s.URL+"/"+name); resp.StatusCode != 200 || body == "" {
			t.Errorf("%s: %s, %d bytes", name, resp.Status, len(body))
		}
	}
	if resp, _ := get(t, s.URL+"/main.go"); resp.StatusCode != 404 {
		t.Errorf("main.go: %s", resp.Status)
	}
}

// TestWithoutScript presses the button as a browser without scripts does.
func TestWithoutScript(t *testing.T) {
	s := serve(t, "")
	_, body := post(t, s.URL, strings.ReplaceAll(wrong, "\n", "\r\n"))
	for _, want := range []string{"<textarea", "round 1 is claimed to have 13 dc; it has 12", `<td>12 dc</td>`, "line 2"} {
		if !strings.Contains(body, want) {
			t.Errorf("no %q in:\n%s", want, body)
		}
	}
}

func TestResult(t *testing.T) {
	s := serve(t, "")
	_, body := post(t, s.URL+"/result", firstDraft)
	for _, want := range []string{"Nothing to report.", "<td>36 dc</td>", "The same 4 times round, and in a mirror.", " cm</td>", "<td>flat</td>",
		"from side to side", "<b>Rnd 3:</b>", `src="data:image/svg&#43;xml;base64,`} {
		if !strings.Contains(body, want) {
			t.Errorf("no %q in:\n%s", want, body)
		}
	}
	if strings.Contains(body, "<html") {
		t.Error("the half page is a whole one")
	}
	// Places count as the browser does: a picture is two units of UTF-16.
	_, body = post(t, s.URL+"/result", "# \U0001F41A é\n"+wrong)
	if want := `data-from="35" data-to="40"`; !strings.Contains(body, want) {
		t.Errorf("no %s in:\n%s", want, body)
	}
}

// TestBorders sees that the rounds of borders have a table of their own.
func TestBorders(t *testing.T) {
	draft, err := os.ReadFile("../spindrift.rnd")
	if err != nil {
		t.Fatal(err)
	}
	_, body := post(t, serve(t, "").URL+"/result", string(draft))
	for _, want := range []string{"Border, on the edge of panel", "Border, on the edge of neck", "<td>404 sc</td>", "<td>122 sc, 4 sc2tog</td>"} {
		if !strings.Contains(body, want) {
			t.Errorf("no %q in:\n%s", want, body)
		}
	}
}

func TestRefused(t *testing.T) {
	s := serve(t, "")
	if resp, _ := post(t, s.URL+"/result", strings.Repeat("x", maxForm)); resp.StatusCode != http.StatusRequestEntityTooLarge {
		t.Errorf("a long draft: %s", resp.Status)
	}
	if resp, _ := post(t, s.URL+"/result", firstDraft, "Sec-Fetch-Site", "cross-site"); resp.StatusCode != http.StatusForbidden {
		t.Errorf("from another site: %s", resp.Status)
	}
	// A draft at the limit that a browser has to escape gets through.
	if resp, body := post(t, s.URL+"/result", strings.Repeat("#\n", notation.DefaultBytes/2)); resp.StatusCode != 200 || !strings.Contains(body, "no-rounds") {
		t.Errorf("a draft of full length: %s", resp.Status)
	}
	if _, body := post(t, s.URL+"/result", "ring\nrnd 1: 300000 dc in ring\n"); !strings.Contains(body, "limit") {
		t.Errorf("a huge piece: %s", body)
	}
}

// TestBrowser lets a real browser type into the page, if there is one.
func TestBrowser(t *testing.T) {
	names := []string{"chromium", "chromium-browser", "google-chrome"}
	at := slices.IndexFunc(names, func(name string) bool { _, err := exec.LookPath(name); return err == nil })
	if at < 0 {
		t.Skip("no browser is installed")
	}
	// The page in a frame, and somebody who types: the result is copied to
	// where the browser prints it.
	const typist = `<!DOCTYPE html><iframe src="/" style="width:70rem;height:40rem"></iframe><pre id="seen"></pre>
<script>
const frame = document.querySelector("iframe"), seen = document.getElementById("seen");
const until = async (test) => { while (!test()) await new Promise(r => setTimeout(r, 20)); };
frame.onload = async () => {
  const page = frame.contentDocument, draft = page.getElementById("draft");
  const text = () => page.getElementById("result").textContent;
  await until(() => text().includes("Nothing to report"));
  draft.value = draft.value.replace("= 36 dc", "= 37 dc");
  draft.dispatchEvent(new Event("input", { bubbles: true }));
  await until(() => text().includes("claimed"));
  page.querySelector(".findings a").click();
  const marked = draft.value.slice(draft.selectionStart, draft.selectionEnd), found = text();
  page.querySelector(".findings button").click();
  await until(() => draft.value.includes("= 36 dc"));
  await until(() => page.querySelector("img"));
  const img = page.querySelector("img");
  await img.decode();
  seen.textContent = "picture " + (img.naturalWidth > 100) + "; marked " + marked + "; " + found;
};
</script>`
	mux := http.NewServeMux()
	mux.Handle("/", handler(firstDraft))
	mux.HandleFunc("/typist", func(w http.ResponseWriter, r *http.Request) { io.WriteString(w, typist) })
	s := httptest.NewServer(mux)
	defer s.Close()
	out, err := exec.CommandContext(t.Context(), names[at], "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-quic",
		"--user-data-dir="+t.TempDir(), "--timeout=20000", "--virtual-time-budget=10000", "--dump-dom", s.URL+"/typist").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"picture true", "marked 37 dc", "round 3 is claimed to have 37 dc; it has 36"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("no %q in what the browser shows:\n%s", want, out)
		}
	}
}

var button = regexp.MustCompile(`<button form="form" name="fix" value="([^"]*)"( class="perhaps")?>([^<]*)</button>`)

// A fix is a button, which works without the script too.
func TestFixes(t *testing.T) {
	const draft = "terms us\nyarn sand\nring\nrnd 1 with snad: 12 htr in ring = 13 htr, 12 st # 潮\n"
	s := serve(t, "")
	_, body := post(t, s.URL, draft)
	got := map[string]string{} // by text
	for _, b := range button.FindAllStringSubmatch(body, -1) {
		if (b[2] != "") != (b[3] == "write sand") {
			t.Errorf("certain or not: %s", b[0])
		}
		got[b[3]] = b[1]
	}
	if len(got) != 4 {
		t.Fatalf("buttons %v in:\n%s", got, body)
	}
	press := func(to, draft, fix string) (*http.Response, string) {
		r, err := http.NewRequest("POST", to, strings.NewReader(url.Values{"draft": {strings.ReplaceAll(draft, "\n", "\r\n")}, "fix": {fix}}.Encode()))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		return answer(t, r)
	}
	for name, want := range map[string]string{
		"write sand":               strings.Replace(draft, "snad", "sand", 1),
		"claim 12 hdc":             strings.Replace(draft, "13", "12", 1),
		"Mend what is certain (3)": strings.NewReplacer("htr", "hdc", "13", "12").Replace(draft),
	} {
		if resp, text := press(s.URL+"/fix", draft, got[name]); resp.StatusCode != 200 || text != want {
			t.Errorf("%s: %s\n%s", name, resp.Status, text)
		}
		if _, body := press(s.URL, draft, got[name]); !strings.Contains(body, ">\n"+want+"</textarea>") {
			t.Errorf("%s, without script:\n%s", name, body)
		}
		// It is not made in a draft that has changed.
		if resp, _ := press(s.URL+"/fix", draft+"#\n", got[name]); resp.StatusCode != http.StatusConflict {
			t.Errorf("%s, in another draft: %s", name, resp.Status)
		}
		if _, body := press(s.URL, draft+"#\n", got[name]); !strings.Contains(body, ">\n"+draft+"#\n</textarea>") {
			t.Errorf("%s, in another draft, without script:\n%s", name, body)
		}
	}
	for _, fix := range []string{"", "certain", "zz-0.0", fixName(draft, "9.9")} {
		if resp, _ := press(s.URL+"/fix", draft, fix); resp.StatusCode != http.StatusConflict {
			t.Errorf("fix %q: %s", fix, resp.Status)
		}
	}
}
