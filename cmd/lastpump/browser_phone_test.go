package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/app"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// onPhone opens a page on a phone of 360 by 740 dots that is touched.
func onPhone(t *testing.T, file string, before ...chromedp.Action[chromedp.Void]) *tab {
	t.Helper()
	return openTab(t, file, 360, append(before, chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch))...)
}

// onTheClock has a ride set out at an hour.
var onTheClock = []string{"--depart", "08:00", "--timezone", "+7"}

// rowOfPumps writes a ride along a meridian with a pump of each name every 90 km, and its page.
func rowOfPumps(t *testing.T, names ...string) (file string) {
	t.Helper()
	return rowOfPumpsWith(t, names)
}

// rowOfPumpsWith does so with more said to the command.
func rowOfPumpsWith(t *testing.T, names []string, more ...string) (file string) {
	t.Helper()
	dir := t.TempDir()
	var gpx, list strings.Builder
	gpx.WriteString(`<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>`)
	for k := range 90*len(names) + 60 {
		fmt.Fprintf(&gpx, `<trkpt lat="%.6f" lon="10"/>`, float64(k)/111.195-60)
	}
	gpx.WriteString("</trkseg></trk></gpx>")
	list.WriteString("name,lat,lon,grades,standing,confirmed,phone,pay,hours\n")
	for i, n := range names {
		fmt.Fprintf(&list, "\"%s\",%.6f,10,95 RON,phoned,2026-06-01,+999 555 01%02d,cash,Mo-Su 08:00-20:00\n",
			strings.ReplaceAll(n, `"`, `""`), float64(90*(i+1))/111.195-60, i%100)
	}
	loop, stops := filepath.Join(dir, "loop.gpx"), filepath.Join(dir, "stops.csv")
	for name, text := range map[string]string{loop: gpx.String(), stops: list.String()} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	file = filepath.Join(dir, "plan.html")
	said := []string{"plan", loop, "--stops", stops, "--fill", "everywhere", "--date", "2026-07-01", "--html", file}
	if _, code := lastpump(t, append(said, more...)...); code > app.ExitFails {
		t.Fatalf("exit %d", code)
	}
	return file
}

// pumps names so many pumps.
func pumps(n int) (names []string) {
	for i := range n {
		names = append(names, fmt.Sprintf("Pump %d", i+1))
	}
	return names
}

// On opening the next card is there without a sweep of the thumb, with what to fill, and the whole
// page of 14 stops is four screens at the most.
func TestPhoneOpensAtTheNextCard(t *testing.T) {
	files := map[string]string{"14 pumps": rowOfPumpsWith(t, pumps(14), onTheClock...)} // hours take more room than none
	for example := range examples {
		files[example] = pageOf(t, example, onTheClock...)
	}
	for name, file := range files {
		b := onPhone(t, file)
		got := eval[struct{ Fill, Screens float64 }](b, `({
			fill: Array.from(document.querySelectorAll("details.card[open] dl div")).find(d => d.textContent.includes("fill")).getBoundingClientRect().bottom,
			screens: document.documentElement.scrollHeight / innerHeight})`)
		if got.Fill <= 0 || got.Fill > 740 {
			t.Errorf("%s: what to fill stands at %.0f of 740", name, got.Fill)
		}
		if got.Screens > 4 {
			t.Errorf("%s: %.1f screens", name, got.Screens)
		}
		b.quiet()
	}
}

// openCards tells which cards are open and which are ticked, a letter for each.
func (b *tab) openCards() string {
	b.t.Helper()
	return eval[string](b, `Array.from(document.querySelectorAll("details.card")).map(d =>
		d.querySelector(".ticked").checkVisibility() ? "t" : d.open ? "o" : ".").join("")`)
}

// tick ticks a card, or takes the tick off, as a thumb does.
func (b *tab) tick(card int) {
	b.t.Helper()
	eval[int](b, fmt.Sprintf(`document.querySelector("#card-%d").open = true, document.querySelector("#card-%[1]d .tick").click(), 1`, card))
}

// A tap folds a card and unfolds it; a tick closes it, opens the next and brings it to the eye and
// the keyboard. The page remembers ticks, where it can; where it cannot they work all the same.
func TestCardsAreTicked(t *testing.T) {
	file := pageOf(t, "canyon")
	for _, keeps := range []bool{true, false} {
		var before []chromedp.Action[chromedp.Void]
		if !keeps {
			before = append(before, command(page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
				Source: `Object.defineProperty(window, "localStorage", {get() { throw new Error("none"); }})`}))
		}
		b := onPhone(t, file, before...)
		steps := []struct {
			what, want string
			do         func()
		}{
			{"opened", "o.......", func() {}},
			{"a tap on the second", "oo......", func() { b.do(chromedp.Focus("#card-2 summary"), chromedp.KeyEvent(kb.Enter)) }},
			{"another", "o.......", func() { b.do(chromedp.KeyEvent(kb.Enter)) }},
			{"the first ticked", "to......", func() { b.tick(1) }},
			{"the second ticked", "tto.....", func() { b.tick(2) }},
			{"the fifth ticked out of turn", "tto.to..", func() { b.tick(5) }},
			{"the second is not done after all", "too.to..", func() { b.tick(2) }},
		}
		for _, s := range steps {
			s.do()
			if got := b.openCards(); got != s.want {
				t.Errorf("%s: %s, want %s", s.what, got, s.want)
			}
		}
		b.tick(2)
		if at := eval[string](b, `document.activeElement.parentElement.id + " " + (document.activeElement.getBoundingClientRect().top < 370)`); at != "card-3 true" {
			t.Errorf("after a tick the eye is at %s", at)
		}
		want := map[bool]string{true: "tt..to..", false: "o......."}[keeps]
		b.do(chromedp.Reload(), chromedp.WaitReady("footer"))
		if got := b.openCards(); got != want {
			t.Errorf("opened again, kept: %v: %s, want %s", keeps, got, want)
		}
		eval[int](b, `(() => { try { localStorage.clear(); } catch (e) {} return 1; })()`)
		b.quiet()
	}
}

// The list of sections stays in reach however far one has come, leads to each and unfolds it.
func TestSectionsStayInReach(t *testing.T) {
	b := onPhone(t, pageOf(t, "steppe", onTheClock...))
	b.unfold()
	n := eval[int](b, `document.querySelectorAll(".reach a").length`)
	if n < 15 {
		t.Errorf("%d sections", n)
	}
	eval[int](b, `document.querySelectorAll("details.fold").forEach(d => { d.open = false; }), 1`)
	for k := range n {
		got := eval[string](b, fmt.Sprintf(`(() => {
			window.scrollTo(0, %d);
			const s = document.querySelector(".reach summary"), r = s.getBoundingClientRect();
			if (r.top < 0 || r.bottom > innerHeight + 1) return "the list is at " + r.top;
			s.click();
			const a = document.querySelectorAll(".reach a")[%d], box = a.getBoundingClientRect();
			a.scrollIntoView({block: "nearest"});
			if (!a.checkVisibility()) return "not unfolded";
			a.click();
			const to = document.querySelector(a.hash), at = to.getBoundingClientRect();
			return to.checkVisibility() && at.top < innerHeight && at.bottom > 0 && !s.parentElement.open ? "" : a.textContent + " lies at " + at.top;
		})()`, 300*k, k))
		if got != "" {
			t.Error(got)
		}
	}
	b.quiet()
}

// A finger that slides 300 dots along the picture gets the figures all along, in the order of the
// ride, and the page stays; up and down it moves the page.
func TestFingerSlidesAlongTheRide(t *testing.T) {
	b := onPhone(t, pageOf(t, "steppe"))
	at := eval[[]float64](b, `(() => {
		document.querySelector(".ride").open = true;
		const svg = document.querySelector("svg.chart.narrow");
		svg.scrollIntoView({block: "end"});
		window.told = [];
		new MutationObserver(() => told.push(document.querySelector("output").textContent)).observe(document.querySelector("output"), {childList: true});
		const r = svg.getBoundingClientRect();
		return [r.left, r.top + r.height / 2, scrollY];
	})()`)
	touch := func(kind input.DispatchTouchEventType, x, y float64) {
		p := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
		if kind != input.DispatchTouchEventTypeTouchEnd {
			p.TouchPoints = append(p.TouchPoints, &input.TouchPoint{X: x, Y: y})
		}
		b.do(command(input.DispatchTouchEvent, p))
	}
	from := at[0] + 33
	touch(input.DispatchTouchEventTypeTouchStart, from, at[1])
	for x := 10.0; x <= 300; x += 10 {
		touch(input.DispatchTouchEventTypeTouchMove, from+x, at[1]+math.Mod(x, 20)/5)
	}
	touch(input.DispatchTouchEventTypeTouchEnd, 0, 0)
	told := eval[[]string](b, `told`)
	ridden := regexp.MustCompile(`; ([\d.]+) km ridden`)
	last, count := -1.0, 0
	for _, s := range told {
		m := ridden.FindStringSubmatch(s)
		if m == nil {
			t.Fatalf("it says %q", s)
		}
		var km float64
		fmt.Sscan(m[1], &km)
		if km < last-1 {
			t.Errorf("from %.1f back to %.1f km", last, km)
		}
		if km > last {
			count++
		}
		last = km
	}
	if count < 25 || last < 1480 { // of 1,522 km, and 30 moves
		t.Errorf("%d figures, the last at %.1f km", count, last)
	}
	if y := eval[float64](b, `scrollY`); y != at[2] {
		t.Errorf("the page moved from %.0f to %.0f", at[2], y)
	}
	touch(input.DispatchTouchEventTypeTouchStart, 180, at[1])
	for y := 20.0; y <= 200; y += 20 {
		touch(input.DispatchTouchEventTypeTouchMove, 180, at[1]+y)
	}
	touch(input.DispatchTouchEventTypeTouchEnd, 0, 0)
	if y := eval[float64](b, `scrollY`); at[2]-y < 100 {
		t.Errorf("a sweep of 200 dots down moves the page by %.0f", at[2]-y)
	}
	b.quiet()
}

// All that is to be touched is 44 dots wide and high, unfolded or not, and the name of a stop never
// pushes the figures off the screen: messy names, and letters twice as large among it.
func TestPhoneTargetsAndColumns(t *testing.T) {
	messy := rowOfPumps(t, strings.Repeat("Seventy letters ", 5)[:70], strings.Repeat("w", 70), "محطة وقود الشمال 12 North", "天山南路加油站二号",
		"<script>alert(1)</script>", "\u202eevil\u202c \u2066x\u2069", `"quoted" & 'so'`, "tel:+1")
	for name, file := range map[string]string{"messy": messy, "steppe": pageOf(t, "steppe", onTheClock...)} {
		for _, letters := range []int64{16, 32} {
			b := onPhone(t, file, command(page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: letters}}))
			b.unfold()
			eval[int](b, `document.querySelector(".reach details").open = true, 1`)
			got := eval[struct {
				Small, Aside []string
				Wide, Seen   int
				Letters      float64
			}](b, `(() => {
				const out = {small: [], aside: [], wide: document.documentElement.scrollWidth, seen: 0, letters: parseFloat(getComputedStyle(document.body).fontSize)};
				document.querySelectorAll("a, button, summary, .tick, input[type=range]").forEach(e => {
					const r = e.getBoundingClientRect();
					if (!e.checkVisibility() || r.width === 0) return;
					out.seen++;
					if (r.width < 43.9 || r.height < 43.9) out.small.push(e.outerHTML.slice(0, 80) + " " + r.width + " × " + r.height);
				});
				document.querySelectorAll("tbody tr").forEach(r => {
					const figure = r.querySelector("th + td").getBoundingClientRect();
					if (figure.left > innerWidth - 60) out.aside.push(r.innerText.slice(0, 60) + " " + figure.left);
				});
				return out;
			})()`)
			if got.Letters != float64(letters) {
				t.Errorf("%s: letters are %.0f high, the browser says %d", name, got.Letters, letters)
			}
			if got.Seen < 40 {
				t.Errorf("%s at %d: %d targets", name, letters, got.Seen)
			}
			for _, s := range got.Small {
				t.Errorf("%s at %d: small: %s", name, letters, s)
			}
			if letters == 16 {
				for _, s := range got.Aside {
					t.Errorf("%s: off the screen: %s", name, s)
				}
			}
			if got.Wide > 360 {
				t.Errorf("%s at %d: %d wide", name, letters, got.Wide)
			}
			b.quiet()
		}
	}
}

// With hours no text lies on another, sticks out or is weak either, and the ends of a day can be
// read without unfolding it.
func TestPageByTheClockIsReadable(t *testing.T) {
	file := pageOf(t, "steppe", onTheClock...)
	for _, wide := range []int64{360, 1280} {
		b := openTab(t, file, wide)
		days := eval[[]string](b, `Array.from(document.querySelectorAll(".day > summary")).filter(s => s.checkVisibility()).map(s => s.innerText)`)
		if len(days) != 9 {
			t.Errorf("at %d: %d days", wide, len(days))
		}
		for _, d := range days {
			if !regexp.MustCompile(`(?s)Day \d, .*leave \d\d:\d\d, ride \d+:\d\d h.*\d\d:\d\d .*, tank [\d.]+ L`).MatchString(d) {
				t.Errorf("at %d: a day says %q", wide, d)
			}
		}
		b.unfold()
		b.isLaidOut()
		b.standsOut("light")
		b.quiet()
	}
}
