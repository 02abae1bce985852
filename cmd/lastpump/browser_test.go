package main

import (
	"context"
	_ "embed"
	"fmt"
	"math"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// needTools is set where a test that finds no browser or no reader of PDF is to fail
// instead of being skipped.
const needTools = "LASTPUMP_NEED_TOOLS"

// tool finds a program, by the first of its names that is there.
func tool(t *testing.T, what string, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv(needTools) != "" {
		t.Fatalf("%s is not installed (%s), and %s is set", what, strings.Join(names, ", "), needTools)
	}
	t.Skipf("%s is not installed (%s): what it would look at is not tested", what, strings.Join(names, ", "))
	return ""
}

// A tab is a page in a browser without a network, with all that went wrong in it.
type tab struct {
	ctx    context.Context
	t      *testing.T
	mutex  sync.Mutex
	faults []string
	asked  []string // other than the page itself
}

// openTab opens a file in a window of a width.
func openTab(t *testing.T, file string, wide int64, before ...chromedp.Action[chromedp.Void]) *tab {
	t.Helper()
	path := tool(t, "Chromium", "chromium", "chromium-browser", "google-chrome")
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, stop := chromedp.NewContext(allocator)
	t.Cleanup(stop)
	b := &tab{ctx: ctx, t: t}
	if err := chromedp.Listen(ctx, b.listen); err != nil {
		t.Fatal(err)
	}
	b.do(command(network.Enable, network.EnableParams{}), command(log.Enable, cdp.Empty{}), command(runtime.Enable, cdp.Empty{}),
		command(network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true}), chromedp.EmulateViewport(wide, 900))
	b.do(before...)
	b.do(chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()), chromedp.WaitReady("footer"))
	return b
}

// command is a step that sends the browser a command.
func command[P, R any](c cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, params)
		return err
	})
}

func (b *tab) listen(event any) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.faults = append(b.faults, e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.faults = append(b.faults, fmt.Sprintf("console.%s", e.Type))
	case *log.EventEntryAdded:
		b.faults = append(b.faults, e.Entry.Text)
	case *network.EventRequestWillBeSent:
		if !strings.HasPrefix(e.Request.URL, "file:") && !strings.HasPrefix(e.Request.URL, "data:") {
			b.asked = append(b.asked, e.Request.URL)
		}
	}
}

// do runs steps, which must not fail.
func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// eval gives what a script comes to.
func eval[T any](b *tab, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		b.t.Fatal(err)
	}
	return v
}

// quiet fails if anything went wrong or was asked of a network.
func (b *tab) quiet() {
	b.t.Helper()
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for _, f := range b.faults {
		b.t.Errorf("the page complains: %s", f)
	}
	for _, u := range b.asked {
		b.t.Errorf("the page asks for %s", u)
	}
}

// pageOf writes the page of an example and gives its place.
func pageOf(t *testing.T, example string, more ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), example+".html")
	lastpump(t, append(append(examples[example][:len(examples[example]):len(examples[example])], "--html", file), more...)...)
	return file
}

// widths are those of a phone, a tablet and a desk.
var widths = []int64{360, 768, 1280}

//go:embed testdata/browser/overlaps.js
var overlapsScript string

//go:embed testdata/browser/contrast.js
var contrastScript string

// In every width no text lies on another and nothing sticks out at the side; in light
// and dark every text stands out from what is behind it by 4.5 to 1, as WCAG 2.1
// (1.4.3, level AA) wants.
func TestPageIsReadable(t *testing.T) {
	for example := range examples {
		file := pageOf(t, example)
		for _, wide := range widths {
			for _, scheme := range []string{"light", "dark"} {
				b := openTab(t, file, wide, command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
					Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
				got := eval[struct {
					Texts, Wide, Room int
					Overlaps          []string
				}](b, overlapsScript)
				if got.Texts < 300 {
					t.Errorf("%s at %d: only %d texts", example, wide, got.Texts)
				}
				if got.Wide > got.Room {
					t.Errorf("%s at %d: the page is %d wide", example, wide, got.Wide)
				}
				for _, o := range got.Overlaps {
					t.Errorf("%s at %d: %s", example, wide, o)
				}
				weak := eval[struct {
					Texts int
					Weak  []string
				}](b, contrastScript)
				if weak.Texts < 300 {
					t.Errorf("%s at %d, %s: only %d texts", example, wide, scheme, weak.Texts)
				}
				for _, w := range weak.Weak {
					t.Errorf("%s at %d, %s: contrast %s", example, wide, scheme, w)
				}
				b.quiet()
			}
		}
	}
}

// A tap on a leg in one picture lights it in both and in the tables; another puts it out.
func TestTapLightsTheLeg(t *testing.T) {
	file := pageOf(t, "steppe")
	for _, wide := range widths {
		b := openTab(t, file, wide)
		for _, picture := range []string{"chart", "sketch"} {
			b.tap(picture, 5)
			want := []string{"chart 5", "sketch 5", "tr 5"}
			got := eval[[]string](b, `Array.from(new Set(Array.from(document.querySelectorAll(".lit")).filter(e => e.getClientRects().length > 0 && /^(a|tr)$/i.test(e.tagName))
				.map(e => (e.closest("svg.chart") ? "chart" : e.closest("svg.sketch") ? "sketch" : "tr") + " " + e.dataset.leg))).sort()`)
			if strings.Join(got, ", ") != strings.Join(want, ", ") {
				t.Errorf("at %d a tap in the %s lights %v, want %v", wide, picture, got, want)
			}
			if says := eval[string](b, `document.querySelector("output").textContent`); !strings.HasPrefix(says, "Leg 5, Yarsat Bridge to Ershal Mine") {
				t.Errorf("at %d it says %q", wide, says)
			}
			b.tap(picture, 5)
			if n := eval[int](b, `document.querySelectorAll(".lit").length`); n != 0 {
				t.Errorf("at %d a second tap in the %s leaves %d lit", wide, picture, n)
			}
		}
		b.quiet()
	}
}

// tap presses the middle of a leg in a picture, where it is seen.
func (b *tab) tap(picture string, leg int) {
	b.t.Helper()
	at := eval[[]float64](b, fmt.Sprintf(`(() => {
		const svg = Array.from(document.querySelectorAll("svg.%s")).find(e => e.getClientRects().length > 0);
		const touch = svg.querySelector('a.leg[data-leg="%d"] .touch');
		touch.scrollIntoView({block: "center"});
		if (touch.getTotalLength && touch.tagName === "path") {
			const p = touch.getPointAtLength(touch.getTotalLength() * 0.3).matrixTransform(touch.getScreenCTM());
			return [p.x, p.y];
		}
		const r = touch.getBoundingClientRect();
		return [r.left + r.width / 2, r.top + r.height / 2];
	})()`, picture, leg))
	b.do(chromedp.MouseClickXY(at[0], at[1]))
}

// By the keyboard a leg is reached and lit, and the figures at a place are read.
func TestPageByKeyboard(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 1280)
	b.do(chromedp.Focus(`svg.chart.middle a.leg[data-leg="10"]`), chromedp.KeyEvent(kb.Enter))
	if n := eval[int](b, `document.querySelectorAll('a.leg.lit[data-leg="10"][aria-current]').length`); n != 5 { // in each form of both pictures
		t.Errorf("Enter lights leg 10 in %d pictures, want 5", n)
	}
	b.do(chromedp.Focus("#reader"), chromedp.KeyEvent(kb.End))
	if says := eval[string](b, `document.querySelector("output").textContent`); !strings.Contains(says, "Leg 14, OK") {
		t.Errorf("at the end it says %q", says)
	}
	b.quiet()
}

// The figures at a place are those on a straight line between two samples of the plan;
// petrol that there is is rounded down, petrol that is lacking up.
func TestFiguresAtAPlace(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 1280)
	plan := eval[struct{ Ridden, Tank []float64 }](b, `JSON.parse(document.getElementById("readings").textContent)`)
	const step = 7 // tenths of a kilometre
	said := eval[[]string](b, fmt.Sprintf(`(() => {
		const reader = document.getElementById("reader"), out = [];
		for (let v = 0; v <= +reader.max; v += %d) {
			reader.value = v;
			reader.dispatchEvent(new Event("input"));
			out.push(document.querySelector("output").textContent);
		}
		return out;
	})()`, step))
	if len(said) < 2000 {
		t.Fatalf("%d places of 1,522 km", len(said))
	}
	k := 0
	for i, text := range said {
		ridden := float64(i*step) / 10
		for k+2 < len(plan.Ridden) && plan.Ridden[k+1] <= ridden {
			k++
		}
		share := (ridden - plan.Ridden[k]) / (plan.Ridden[k+1] - plan.Ridden[k])
		tank := plan.Tank[k] + share*(plan.Tank[k+1]-plan.Tank[k])
		want := fmt.Sprintf(": %.1f L likely", math.Floor(tank*10+1e-6)/10)
		if tank < 0 {
			want = fmt.Sprintf(": none (%.1f L lacking) likely", math.Ceil(-tank*10-1e-6)/10)
		}
		if !strings.Contains(text, want) {
			t.Fatalf("at %.1f km, %.4f L: %s", ridden, tank, text)
		}
	}
	b.quiet()
}

// Without its script the page shows everything but the figures under a finger, and a leg
// leads to its row.
func TestPageWithoutScript(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 1280, command(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}))
	b.do(chromedp.Focus(`svg.chart.middle a.leg[data-leg="5"]`), chromedp.KeyEvent(kb.Enter))
	got := eval[string](b, `location.hash + " " + getComputedStyle(document.querySelector("#leg-5")).backgroundColor + " " + document.querySelector(".reader").getClientRects().length`)
	if got != "#leg-5 rgb(240, 217, 160) 0" { // --lit of the style sheet
		t.Errorf("without a script: %s", got)
	}
	b.quiet()
}

// What a screen reader asks for: a language, names for pictures, links and tables, heads
// for columns and rows (WCAG 2.1, 1.1.1, 1.3.1, 2.4.4, 3.1.1).
func TestPageForScreenReaders(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 1280)
	got := eval[[]string](b, `(() => {
		const out = [];
		const want = (ok, what) => { if (!ok) out.push(what); };
		want(document.documentElement.lang === "en" && document.title, "language and title");
		document.querySelectorAll("svg").forEach(e => want(e.getAttribute("aria-label") || e.getAttribute("aria-hidden"), "a picture without a name"));
		document.querySelectorAll("a.leg").forEach(e => want(e.getAttribute("aria-label") && e.querySelector("title"), "a leg without a name"));
		document.querySelectorAll("table").forEach(e => {
			want(e.querySelectorAll("thead th[scope=col]").length === e.rows[0].cells.length, "a column without a head");
			Array.from(e.tBodies[0].rows).forEach(r => want(r.querySelectorAll("th[scope=row]").length === 1 && r.cells.length === e.rows[0].cells.length, "a row without a head: " + r.textContent));
			want(e.closest("[aria-label]"), "a table without a name");
		});
		want(document.querySelectorAll("h1").length === 1 && document.querySelectorAll("table").length > 5, "headings and tables");
		return out;
	})()`)
	for _, g := range got {
		t.Error(g)
	}
}

// On A4 and on Letter no row of a table, no warning and no picture is cut: the marks at
// their beginning and at their end come out on one sheet.
func TestPrintedPageCutsNoRow(t *testing.T) {
	text := tool(t, "pdftotext", "pdftotext")
	for example := range examples {
		file := pageOf(t, example)
		for _, paper := range []struct {
			name string
			size chromedp.PaperSize
		}{{"A4", chromedp.PaperA4}, {"Letter", chromedp.PaperLetter}} {
			b := openTab(t, file, 1280)
			n := eval[int](b, `(() => {
				let n = 0;
				const mark = (e, where) => e.insertAdjacentText(where, " q" + n + "q ");
				document.querySelectorAll("tr").forEach(r => { n++; Array.from(r.cells).forEach(c => { mark(c, "afterbegin"); mark(c, "beforeend"); }); });
				document.querySelectorAll(".warning > p, .cures > li, p.led").forEach(e => { n++; mark(e, "afterbegin"); mark(e, "beforeend"); });
				return n;
			})()`)
			pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper.size), chromedp.PDFPreferCSSPageSize()))
			if err != nil {
				t.Fatal(err)
			}
			sheets := strings.Split(textOf(t, text, pdf), "\f")
			if len(sheets) < 5 {
				t.Fatalf("%s on %s: %d sheets", example, paper.name, len(sheets))
			}
			for k := 1; k <= n; k++ {
				mark, on := fmt.Sprintf("q%dq", k), 0
				for _, s := range sheets {
					if strings.Contains(s, mark) {
						on++
					}
				}
				if head := k == 1; on != 1 && !(on > 1 && b.isHead(k)) || head && on == 0 {
					t.Errorf("%s on %s: row %d is on %d sheets", example, paper.name, k, on)
				}
			}
		}
	}
}

// isHead tells whether a marked row is the head of a table, which comes again on every
// sheet.
func (b *tab) isHead(k int) bool {
	return eval[bool](b, fmt.Sprintf(`Array.from(document.querySelectorAll("thead tr")).some(r => r.textContent.includes("q%dq"))`, k))
}

// textOf gives the text of a PDF, its pages ended by form feeds.
func textOf(t *testing.T, program string, pdf []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
