package plots

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// browser gives the browser named by WINTERTOP_BROWSER, a program that runs
// without a screen as Chromium does; without it the test is skipped, since it
// takes seconds.
func browser(t *testing.T) string {
	t.Helper()
	name := os.Getenv("WINTERTOP_BROWSER")
	if name == "" {
		t.Skip("WINTERTOP_BROWSER names no browser")
	}
	path, err := exec.LookPath(name)
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// browse opens a file and gives what the browser wrote out and what it logged.
func browse(t *testing.T, path, file string, flags ...string) (out, log string) {
	t.Helper()
	args := append([]string{
		"--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--disable-dev-shm-usage", "--no-first-run", "--disable-extensions",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND", "--user-data-dir=" + filepath.Join(t.TempDir(), "user"),
		"--enable-logging=stderr", "--virtual-time-budget=20000",
	}, flags...)
	c := exec.Command(path, append(args, "file://"+filepath.ToSlash(file))...)
	var stdout, stderr bytes.Buffer
	c.Stdout, c.Stderr = &stdout, &stderr
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	const patience = 60 * time.Second
	timer := time.AfterFunc(patience, func() { c.Process.Kill() })
	defer timer.Stop()
	if err := c.Wait(); err != nil {
		t.Fatalf("%v\n%s", err, stderr.String())
	}
	return stdout.String(), stderr.String()
}

// view is one page in a window of some width.
type view struct {
	Name  string
	width int
	page  Page
	dress func(page string) string // what the style sheet takes the medium for

	// What the browser measured.
	Width, Scroll                int
	Wide, Cut, Over, Faint, Head []string
	Asked                        []string // what it asked others for
	Text                         string
}

// measuring tells what was asked of others, the width, what sticks out sideways, letters in pictures
// that are cut or lie on others, text with too little contrast, and the words.
const measuring = `<script>
addEventListener("load", () => {
  const root = document.documentElement, m = {name: NAME, width: root.clientWidth, scroll: root.scrollWidth, wide: [], cut: [], over: [], faint: [], head: [], asked: []};
  const say = e => e.tagName + " " + e.textContent.trim().slice(0, 40);
  for (const e of document.body.querySelectorAll("*")) {
    const r = e.getBoundingClientRect();
    if (!r.width || e.closest(".scroll") !== e && e.closest(".scroll") || e.closest("svg") && e.tagName !== "svg") continue;
    if (r.right > root.clientWidth + 1 || r.left < -1) m.wide.push(say(e) + " to " + r.right);
  }
  for (const svg of document.querySelectorAll("svg[role=img]")) {
    const box = svg.getBoundingClientRect(), boxes = [];
    if (!box.width) continue;
    for (const t of svg.querySelectorAll("text")) {
      const r = t.getBoundingClientRect();
      if (r.left < box.left - 0.5 || r.right > box.right + 0.5 || r.top < box.top - 1 || r.bottom > box.bottom + 1) m.cut.push(say(t));
      const trim = r.height * 0.18;
      for (const [o, q] of boxes)
        if (r.left < q.right - 0.5 && q.left < r.right - 0.5 && r.top + trim < q.bottom - trim && q.top + trim < r.bottom - trim) m.over.push(say(t) + " / " + say(o));
      boxes.push([t, r]);
    }
  }
  const rgb = c => { const p = c.match(/[\d.]+/g).map(Number); return p[3] === 0 ? null : p; };
  const light = c => { const [r, g, b] = c.slice(0, 3).map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  for (const e of document.body.querySelectorAll("*")) {
    if (e.closest("svg") || !e.getClientRects().length || ![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
    let ground = null;
    for (let up = e; up && !ground; up = up.parentElement) ground = rgb(getComputedStyle(up).backgroundColor);
    const a = light(rgb(getComputedStyle(e).color)), b = light(ground || [255, 255, 255]);
    if ((Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) < 4.5) m.faint.push(say(e));
  }
  let level = 0;
  for (const h of document.querySelectorAll("h1,h2,h3,h4,h5,h6")) {
    const next = +h.tagName[1];
    if (next > level + 1) m.head.push(say(h));
    level = next;
  }
  m.asked = performance.getEntriesByType("resource").map(e => e.name);
  m.text = document.body.innerText;
  parent.postMessage(m, "*");
});
</script></body>`

const gathering = `<!DOCTYPE html><meta charset="utf-8"><pre id="out"></pre><script>
const all = [];
addEventListener("message", e => { all.push(e.data); if (all.length === COUNT) document.getElementById("out").textContent = JSON.stringify(all); });
</script>`

func asPrinted(page string) string {
	return strings.NewReplacer("@media print", "@media all", "@media screen", "@media not all").Replace(page)
}

func asDark(page string) string {
	return strings.ReplaceAll(page, "@media screen and (prefers-color-scheme:dark)", "@media all")
}

func asLight(page string) string {
	return strings.ReplaceAll(page, "(prefers-color-scheme:dark)", "(width:1px)")
}

func TestPageInABrowser(t *testing.T) {
	path := browser(t)
	t.Parallel()
	const printed = 688 // CSS pixels between the margins of A4
	views := []*view{
		{Name: "phone", width: 390, page: page(8, november, true), dress: asLight},
		{Name: "phone, many lines", width: 390, page: page(60, november, false), dress: asDark},
		{Name: "screen", width: 1280, page: page(8, november, false), dress: asDark},
		{Name: "paper", width: printed, page: page(20, november, true), dress: asPrinted},
	}
	harness := strings.Replace(gathering, "COUNT", fmt.Sprint(len(views)), 1)
	policy := regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>`)
	for _, v := range views {
		text := policy.ReplaceAllString(v.dress(written(t, v.page)), "")
		name, err := json.Marshal(v.Name)
		if err != nil {
			t.Fatal(err)
		}
		text = strings.Replace(text, "</body>", strings.Replace(measuring, "NAME", string(name), 1), 1)
		harness += fmt.Sprintf("<iframe srcdoc=\"%s\" style=\"width:%dpx;height:800px;border:0\"></iframe>\n", html.EscapeString(text), v.width)
	}
	file := filepath.Join(t.TempDir(), "harness.html")
	if err := os.WriteFile(file, []byte(harness), 0o644); err != nil {
		t.Fatal(err)
	}
	out, log := browse(t, path, file, "--window-size=1400,900", "--dump-dom")
	m := regexp.MustCompile(`(?s)<pre id="out">(.*?)</pre>`).FindStringSubmatch(out)
	var seen []view
	if m == nil || json.Unmarshal([]byte(html.UnescapeString(m[1])), &seen) != nil || len(seen) != len(views) {
		t.Fatalf("the browser measured nothing\n%s", log)
	}
	for _, got := range seen {
		for _, v := range views {
			if v.Name == got.Name {
				v.judge(t, got)
			}
		}
	}
}

func (v *view) judge(t *testing.T, got view) {
	t.Helper()
	if got.Width != v.width || got.Scroll > v.width {
		t.Errorf("%s: %d wide in a window of %d", v.Name, got.Scroll, v.width)
	}
	for what, list := range map[string][]string{
		"sticks out": got.Wide, "is cut": got.Cut, "overlaps": got.Over, "is too faint": got.Faint, "skips a level": got.Head,
		"is asked for": got.Asked,
	} {
		for i, e := range list {
			if i == 5 {
				t.Errorf("%s: and %d more", v.Name, len(list)-i)
				break
			}
			t.Errorf("%s: %q %s", v.Name, e, what)
		}
	}
	text := strings.Join(strings.Fields(got.Text), " ")
	for _, r := range v.page.Picks[0].Rows {
		if name := plain(r.Line); !strings.Contains(text, name) {
			t.Errorf("%s: %q is not named", v.Name, name)
		}
	}
}

func TestPageIsQuietAndPrints(t *testing.T) {
	path := browser(t)
	t.Parallel()
	dir := t.TempDir()
	file, pdf := filepath.Join(dir, "report.html"), filepath.Join(dir, "report.pdf")
	if err := os.WriteFile(file, []byte(written(t, page(8, november, true))), 0o644); err != nil {
		t.Fatal(err)
	}
	_, log := browse(t, path, file, "--no-pdf-header-footer", "--print-to-pdf="+pdf)
	for _, line := range strings.Split(log, "\n") {
		if strings.Contains(line, "CONSOLE") {
			t.Errorf("console: %s", line)
		}
	}
	paper, err := os.ReadFile(pdf)
	if err != nil || !bytes.HasPrefix(paper, []byte("%PDF")) {
		t.Fatalf("no PDF: %v", err)
	}
	// Seventeen sections, of which some share a page and some take two.
	if pages := bytes.Count(paper, []byte("/Type /Page\n")); pages < 4 || pages > 20 {
		t.Errorf("%d pages", pages)
	}
}
