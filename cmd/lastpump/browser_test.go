package main

import (
	"context"
	_ "embed"
	"fmt"
	"math"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"lastpump/testdata/kit"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A tab is a page in a browser without a network, with all that went wrong in it.
type tab struct {
	ctx    context.Context
	t      *testing.T
	mutex  sync.Mutex
	faults []string
	asked  []string // other than the page itself
}

// started is the browser of all tests, and how it is stopped once they are over.
var started struct {
	once sync.Once
	ctx  context.Context
	err  error
	stop []context.CancelFunc
}

func stopBrowser() {
	for _, stop := range slices.Backward(started.stop) {
		stop()
	}
}

// browser gives the browser, which the first test that asks for it starts. What it looks at
// takes a minute of two processors: it is part of the long runs.
func browser(t *testing.T) context.Context {
	t.Helper()
	if !kit.Long() {
		t.Skip("a look through a browser: a long run")
	}
	path := kit.Tool(t, "Chromium", "chromium", "chromium-browser", "google-chrome")
	started.once.Do(func() {
		options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)
		allocator, stopAll := chromedp.NewExecAllocator(context.Background(), options...)
		ctx, stop := chromedp.NewContext(allocator)
		started.ctx, started.stop = ctx, []context.CancelFunc{stopAll, stop}
		started.err = chromedp.Do(ctx)
	})
	if started.err != nil {
		t.Fatal(started.err)
	}
	return started.ctx
}

// openTab opens a file in a window of a width; the tab closes when the test ends.
func openTab(t *testing.T, file string, wide int64, before ...chromedp.Action[chromedp.Void]) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser(t))
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
		if !strings.HasPrefix(e.Request.URL, "file:") && !strings.HasPrefix(e.Request.URL, "data:") &&
			!strings.HasPrefix(e.Request.URL, "blob:null/") { // what the page has made itself
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

// unfold opens everything that folds, but for the list of sections, which would lie on it.
func (b *tab) unfold() {
	b.t.Helper()
	eval[int](b, `document.querySelectorAll("main details").forEach(d => { d.open = true; }), 1`)
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
	browser(t) // skips, where there is none
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
			t.Run(fmt.Sprintf("%s at %d", example, wide), func(t *testing.T) {
				b := openTab(t, file, wide)
				b.unfold()
				b.isLaidOut()
				for _, scheme := range []string{"light", "dark"} {
					b.do(command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
						Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
					b.standsOut(scheme)
				}
				b.quiet()
			})
		}
	}
}

// isLaidOut fails on texts that lie on another or stick out.
func (b *tab) isLaidOut() {
	b.t.Helper()
	laid := eval[struct {
		Texts, Wide, Room int
		Overlaps          []string
	}](b, overlapsScript)
	if laid.Texts < 300 {
		b.t.Errorf("only %d texts", laid.Texts)
	}
	if laid.Wide > laid.Room {
		b.t.Errorf("the page is %d wide", laid.Wide)
	}
	for _, o := range laid.Overlaps {
		b.t.Error(o)
	}
}

// standsOut fails on texts that do not stand out from what is behind them.
func (b *tab) standsOut(scheme string) {
	b.t.Helper()
	seen := eval[struct {
		Texts int
		Weak  []string
	}](b, contrastScript)
	if seen.Texts < 300 {
		b.t.Errorf("only %d texts", seen.Texts)
	}
	for _, w := range seen.Weak {
		b.t.Errorf("%s: contrast %s", scheme, w)
	}
}

// A tap on a leg in one picture lights it in both and in the tables, and its figures stand beside
// that picture with a link to its row; another puts it out.
func TestTapLightsTheLeg(t *testing.T) {
	file := pageOf(t, "steppe")
	for _, wide := range widths {
		b := openTab(t, file, wide)
		b.unfold()
		for _, picture := range []string{"chart", "sketch"} {
			b.tap(picture, 5)
			want := []string{"chart 5", "sketch 5", "tr 5"}
			got := eval[[]string](b, `Array.from(new Set(Array.from(document.querySelectorAll(".lit")).filter(e => e.checkVisibility() && !e.matches("nav a"))
				.map(e => (e.closest("svg.chart") ? "chart" : e.closest("svg.sketch") ? "sketch" : "tr") + " " + e.dataset.leg))).sort()`)
			if strings.Join(got, ", ") != strings.Join(want, ", ") {
				t.Errorf("at %d a tap in the %s lights %v, want %v", wide, picture, got, want)
			}
			beside := map[string]string{"chart": ".reader", "sketch": ".told-leg"}[picture]
			if says := eval[string](b, `document.querySelector("`+beside+`").innerText`); !strings.Contains(says, "Leg 5, Yarsat Bridge to Ershal Mine") {
				t.Errorf("at %d beside the %s it says %q", wide, picture, says)
			}
			if to := eval[string](b, `document.querySelector("`+beside+` .to-row").hash`); to != "#leg-5" {
				t.Errorf("at %d it leads to %q", wide, to)
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
		const svg = Array.from(document.querySelectorAll("svg.%s")).find(e => e.checkVisibility());
		const touch = svg.querySelector('.touch[data-leg="%d"]');
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

// By the keyboard the row of a leg is reached and lit, and the figures at a place are read; the
// slider goes by the kilometre and says where it is.
func TestPageByKeyboard(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 1280)
	b.do(chromedp.Focus(`.legs a[data-leg="10"]`), chromedp.KeyEvent(kb.Enter))
	if got := eval[string](b, `location.hash + " " + document.querySelectorAll('.legs a.lit[data-leg="10"][aria-current]').length + " " + document.querySelector("#leg-10").checkVisibility()`); got != "#leg-10 1 true" {
		t.Errorf("Enter on leg 10: %s", got)
	}
	b.do(chromedp.Focus("#reader"), chromedp.KeyEvent(kb.End))
	if says := eval[string](b, `document.querySelector("output").textContent`); !strings.Contains(says, "Leg 12, OK") {
		t.Errorf("at the end it says %q", says)
	}
	b.do(chromedp.KeyEvent(kb.Home), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	plan := eval[struct{ Ridden, Tank []float64 }](b, `JSON.parse(document.getElementById("readings").textContent)`)
	tank := 0.0
	for k := 1; k < len(plan.Ridden); k++ {
		if a, z := plan.Ridden[k-1], plan.Ridden[k]; a <= 2 && 2 < z {
			tank = plan.Tank[k-1] + (plan.Tank[k]-plan.Tank[k-1])*(2-a)/(z-a)
		}
	}
	want := fmt.Sprintf("leg 1, 2.0 km, %.1f L likely", math.Floor(tank*10+1e-6)/10)
	if says := eval[string](b, `document.querySelector("#reader").getAttribute("aria-valuetext")`); says != want {
		t.Errorf("two steps from the start are spoken as %q, want %q", says, want)
	}
	b.quiet()
}

// The figures at a place are those on a straight line between two samples of the plan;
// petrol that there is is rounded down, petrol that is lacking up.
func TestFiguresAtAPlace(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 1280)
	plan := eval[struct{ Ridden, Tank []float64 }](b, `JSON.parse(document.getElementById("readings").textContent)`)
	said := eval[[]string](b, `(() => {
		const reader = document.getElementById("reader"), out = [];
		for (let v = 0; v <= +reader.max; v++) {
			reader.value = v;
			reader.dispatchEvent(new Event("input"));
			out.push(document.querySelector("output").textContent);
		}
		return out;
	})()`)
	if len(said) < 1500 {
		t.Fatalf("%d places of 1,522 km", len(said))
	}
	k := 0
	for i, text := range said {
		ridden := min(float64(i), plan.Ridden[len(plan.Ridden)-1])
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

// Without its script the page shows everything but the figures under a finger: cards and sections
// unfold, a leg leads to its row, nothing is there that would do nothing.
func TestPageWithoutScript(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 360, command(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}))
	if got := eval[string](b, `Array.from(document.querySelectorAll("details.card")).map(d => d.open ? 1 : 0).join("") + " " + document.querySelector(".card dl").innerText.includes("full, 95 RON")`); got != "1000000000000 true" {
		t.Errorf("cards: %s", got)
	}
	b.do(chromedp.Focus("#card-4 summary"), chromedp.KeyEvent(kb.Enter))
	if says := eval[string](b, `document.querySelector("#card-4 dl").innerText`); !strings.Contains(says, "3.7 ≤ 4.9 L, 80 RON") {
		t.Errorf("the fourth card says %q", says)
	}
	b.do(chromedp.Focus(".ride summary"), chromedp.KeyEvent(kb.Enter), chromedp.Focus(`.legs a[data-leg="5"]`), chromedp.KeyEvent(kb.Enter))
	got := eval[string](b, `location.hash + " " + getComputedStyle(document.querySelector("#leg-5")).backgroundColor + " " + document.querySelector("#leg-5").checkVisibility()`)
	if got != "#leg-5 rgb(240, 217, 160) true" { // --lit of the style sheet
		t.Errorf("without a script: %s", got)
	}
	if n := eval[int](b, `Array.from(document.querySelectorAll(".scripted")).filter(e => e.checkVisibility()).length`); n != 0 {
		t.Errorf("%d things that would do nothing", n)
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
		document.querySelectorAll("svg[role]").forEach(e => want(document.getElementById(e.getAttribute("aria-describedby")).textContent.length > 60, "a picture that is not told in words"));
		document.querySelectorAll("table").forEach(e => {
			want(Array.from(e.rows[0].cells).every(c => c.matches("th[scope=col]") ? c.textContent : !c.textContent), "a column without a head");
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
