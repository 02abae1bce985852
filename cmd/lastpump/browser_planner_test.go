package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/testdata/kit"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// long skips a test that looks at the planner in a browser, which takes its time, but in the long run.
func long(t *testing.T) {
	t.Helper()
	if !kit.Long() {
		t.Skip("only in the long run")
	}
}

// setField is a script that types into a field of the form.
func setField(id, value string) string {
	text, _ := json.Marshal(value)
	return fmt.Sprintf(`(() => { const f = document.getElementById(%q); if (f.type === "checkbox") { f.checked = true; } else { f.value = %s; } })(), 1`, id, text)
}

// wait waits until a script gives true.
func (b *tab) wait(what, script string) {
	b.t.Helper()
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if eval[bool](b, script) {
			return
		}
	}
	b.t.Fatalf("%s: not within two minutes; the page says %q", what, b.said())
}

// said gives what the page says of the last plan.
func (b *tab) said() string {
	return eval[string](b, `document.getElementById("again-answer").innerText`)
}

// again types what the fields are to say, has the page plan, and gives the plan as JSON.
func (b *tab) again(fields ...[2]string) string {
	b.t.Helper()
	eval[int](b, `document.getElementById("again-json").textContent = "", document.getElementById("again-fold").open = true, 1`)
	for _, f := range fields {
		eval[int](b, setField(f[0], f[1]))
	}
	eval[int](b, `document.getElementById("again-plan").click(), 1`)
	b.wait("a plan", `document.getElementById("again").getAttribute("aria-busy") === "false"`)
	return eval[string](b, `document.getElementById("again-json").textContent`)
}

// planned gives the plan of the command as JSON, with the version line taken out.
func plannedAs(t *testing.T, args []string, more ...string) string {
	t.Helper()
	out, code := lastpump(t, slices.Concat(args, more, []string{"--json", "-"})...)
	if code > app.ExitFails {
		t.Fatalf("%q: exit %d", more, code)
	}
	return withoutVersion(out)
}

func withoutVersion(plan string) string {
	lines := strings.Split(plan, "\n")
	return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return strings.HasPrefix(l, ` "version":`) }), "\n")
}

// A choice is what a rider says on the page and what the command is told instead.
type choice struct {
	fields [][2]string
	flags  []string
}

// choices are three places on the way of each example, and what else a page can be told.
var choices = map[string][]choice{
	"steppe": {
		{[][2]string{{"again-at", "Sulmeg"}, {"again-used", "9 L over 212 km"}, {"again-can", "2 L of 95 RON"}},
			[]string{"--from", "Sulmeg", "--used", "9 L over 212 km", "--can-now", "2 L of 95 RON"}},
		{[][2]string{{"again-at", "Kembil, 1174.6km"}, {"again-tank", "4L"}, {"again-dry", "Zhalmir\nRed Well"}},
			[]string{"--from", "Kembil, 1174.6km", "--start-fuel", "4L", "--skip", "Zhalmir", "--skip", "Red Well"}},
		{[][2]string{{"again-at", "Narsuk"}, {"again-now", "13:40"}, {"again-date", "2026-07-02"}, {"again-timezone", "+7"},
			{"again-told", "Doverak: no 95 RON"}, {"again-reserve", "20%"}, {"again-thirst", "1.1"}},
			[]string{"--from", "Narsuk", "--now", "13:40", "--date", "2026-07-02", "--timezone", "+7", "--answer", "Doverak: no 95 RON",
				"--reserve", "20%", "--thirst", "1.1"}},
		{[][2]string{{"again-reverse", "true"}, {"again-cans", "2x3L"}, {"again-begin", "Sulmeg"}},
			[]string{"--reverse", "--can", "2x3L", "--begin-at", "Sulmeg"}},
	},
	"canyon": {
		{[][2]string{{"again-at", "Slate Cradle"}, {"again-used", "1.6 USgal over 80 mi"}},
			[]string{"--from", "Slate Cradle", "--used", "1.6 USgal over 80 mi"}},
		{[][2]string{{"again-at", "120mi"}, {"again-tank", "2 USgal"}}, []string{"--from", "120mi", "--start-fuel", "2 USgal"}},
		{[][2]string{{"again-at", "Hobnail"}, {"again-depart", "07:30"}, {"again-date", "2026-09-15"}},
			[]string{"--from", "Hobnail", "--depart", "07:30", "--date", "2026-09-15"}},
	},
}

// A page plans its ride again as the command does, to the byte: from three places on the way of each example,
// and with all else that can be changed. What stood before comes back.
func TestPagePlansAgain(t *testing.T) {
	long(t)
	for example, all := range choices {
		args := examples[example]
		file := pageOf(t, example, "--planner")
		for _, c := range all {
			b := onPhone(t, file)
			before := eval[string](b, `document.querySelector("main").innerText`)
			got := b.again(c.fields...)
			if want := plannedAs(t, args, c.flags...); withoutVersion(got) != want {
				t.Errorf("%s %q: the page says %q, its plan differs from the command's at %s", example, c.flags, b.said(), firstDifference(withoutVersion(got), want))
			}
			if after := eval[string](b, `document.querySelector("main").innerText`); after == before {
				t.Errorf("%s %q: the page is as it was", example, c.flags)
			}
			eval[int](b, `document.getElementById("again-undo").click(), 1`)
			if after := eval[string](b, `document.querySelector("main").innerText`); after != before {
				t.Errorf("%s %q: undone the page is another", example, c.flags)
			}
			b.quiet()
		}
	}
}

// firstDifference gives the first lines that differ.
func firstDifference(a, b string) string {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(as), len(bs)) {
		if as[i] != bs[i] {
			return fmt.Sprintf("line %d: %s / %s", i+1, as[i], bs[i])
		}
	}
	return fmt.Sprintf("the end: %d and %d lines", len(as), len(bs))
}

// What is wrong stands at the field that is wrong, and the page is as it was.
func TestPageSaysWhatIsWrong(t *testing.T) {
	long(t)
	b := onPhone(t, pageOf(t, "canyon", "--planner"))
	for _, c := range []struct{ field, value, want string }{
		{"again-used", "1.6", "does not say over what distance"}, {"again-at", "Hobnial", "Hobnail"},
		{"again-reserve", "20", "has no unit"}, {"again-thirst", "15%", "1.15"},
	} {
		if got := b.again([2]string{c.field, c.value}); got != "" {
			t.Errorf("%s: a plan", c.value)
		}
		at := eval[string](b, fmt.Sprintf(`(document.querySelector("#%s[aria-invalid] + p.fault") || {innerText: ""}).innerText`, c.field))
		if !strings.Contains(at, c.want) {
			t.Errorf("%s %q: at the field stands %q, want %q", c.field, c.value, at, c.want)
		}
		eval[int](b, setField(c.field, ""))
	}
	b.quiet()
}

// startOf gives the planner without a ride.
func startOf(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "planner.html")
	lastpump(t, "page", "--out", file)
	return file
}

// give gives files to the page, as from the dialogue of a browser.
func (b *tab) give(files ...string) {
	b.t.Helper()
	for i, f := range files {
		whole, err := filepath.Abs(f)
		if err != nil {
			b.t.Fatal(err)
		}
		files[i] = whole
	}
	b.do(chromedp.SetUploadFiles("#files", files))
	b.wait("the files", fmt.Sprintf(`document.querySelectorAll("#given li").length === %d`, len(files)))
}

// planned has the page plan what it was given, and gives the plan as JSON; "" where it does not.
func (b *tab) planned() string {
	b.t.Helper()
	eval[int](b, `document.getElementById("plan-json").textContent = "", document.getElementById("start-plan").click(), 1`)
	b.wait("a plan", `!document.getElementById("start-plan").disabled`)
	return eval[string](b, `document.getElementById("plan-json").textContent`)
}

// rideFiles are the files of the examples, by what they are; the pumps of the canyon are waypoints of its loop.
var rideFiles = map[string][]string{"steppe": {"loop.gpx", "stops.csv", "ground.csv", "bike.toml"}, "canyon": {"loop.gpx", "ground.csv", "bike.toml"}}

// The page without a ride is given the files of an example, in any order, and makes the plan of the command, to
// the byte; then it plans again from a place on the way.
func TestPlannerPlansWhatItIsGiven(t *testing.T) {
	long(t)
	file := startOf(t)
	for example, names := range rideFiles {
		t.Chdir(filepath.Join("..", "..", "examples", example))
		args := map[string][]string{
			"steppe": {"plan", "loop.gpx", "--stops", "stops.csv", "--ground", "ground.csv", "--bike", "bike.toml"},
			"canyon": {"plan", "loop.gpx", "--ground", "ground.csv", "--bike", "bike.toml"},
		}[example]
		b := onPhone(t, file)
		given := slices.Clone(names)
		slices.Reverse(given)
		b.give(given...)
		got := b.planned()
		if want := plannedAs(t, args); withoutVersion(got) != want {
			t.Errorf("%s: the page's plan differs from the command's at %s", example, firstDifference(withoutVersion(got), want))
		}
		c := choices[example][0]
		got = b.again(c.fields...)
		if want := plannedAs(t, args, c.flags...); withoutVersion(got) != want {
			t.Errorf("%s %q: the page's plan differs from the command's at %s", example, c.flags, firstDifference(withoutVersion(got), want))
		}
		b.quiet()
		t.Chdir(filepath.Join("..", "..", "cmd", "lastpump"))
	}
}

// What is typed is planned with, and what is wrong in it is said at its line.
func TestPlannerTakesWhatIsTyped(t *testing.T) {
	long(t)
	b := onPhone(t, startOf(t))
	if got := b.planned(); got != "" {
		t.Error("a plan without a ride")
	}
	if said := eval[string](b, `document.getElementById("start-answer").innerText`); !strings.Contains(said, "GPX") {
		t.Errorf("without a ride it says %q", said)
	}
	b.give("../../examples/steppe/loop.gpx")
	for _, f := range [][2]string{{"bike-tank", "14"}, {"bike-consumption", "4.5 L/100km"}, {"bike-needs", "95 RON"}} {
		eval[int](b, setField(f[0], f[1]))
	}
	row := `const c = document.querySelectorAll("#type-stops tbody tr")[%d].querySelectorAll("input"); %q.split("|").forEach((v, i) => { c[i].value = v; })`
	eval[int](b, "(() => {"+fmt.Sprintf(row, 0, "Ordvel|46.81166|93.78457|95 RON; 92 RON|24/7|seen|")+"})(), 1")
	eval[int](b, `document.querySelector("[data-more=type-stops]").click(), 1`)
	eval[int](b, "(() => {"+fmt.Sprintf(row, 1, "Sulmeg|46.56987|north|92 RON|||")+"})(), 1")
	if got := b.planned(); got != "" {
		t.Error("a plan of a tank without a unit")
	}
	if at := eval[string](b, `document.querySelector("#bike-tank + p.fault").innerText`); !strings.Contains(at, "has no unit") {
		t.Errorf("at the tank stands %q", at)
	}
	eval[int](b, setField("bike-tank", "14 L"))
	if got := b.planned(); got != "" {
		t.Error("a plan of a stop in the north")
	}
	if at := eval[string](b, `document.querySelector("#type-stops + p.fault").innerText`); !strings.Contains(at, "north") ||
		!eval[bool](b, `document.querySelectorAll("#type-stops tbody tr")[1].querySelector("[aria-invalid]") !== null`) {
		t.Errorf("at the table stands %q", at)
	}
	eval[int](b, "(() => {"+fmt.Sprintf(row, 1, "Sulmeg|46.56987|98.77581|92 RON|||")+"})(), 1")
	dir := t.TempDir()
	list, bike := filepath.Join(dir, "typed-stops.csv"), filepath.Join(dir, "bike.toml")
	for name, text := range map[string]string{
		list: "name,lat,lon,grades,hours,standing\nOrdvel,46.81166,93.78457,95 RON; 92 RON,24/7,seen\nSulmeg,46.56987,98.77581,92 RON,,\n",
		bike: "tank = \"14 L\"\nconsumption = \"4.5 L/100km\"\nneeds = \"95 RON\"\n",
	} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got := withoutVersion(b.planned())
	if want := plannedAs(t, []string{"plan", "../../examples/steppe/loop.gpx", "--stops", list, "--bike", bike}); got != want {
		t.Errorf("typed, the plan differs from that of files at %s", firstDifference(got, want))
	}
	b.quiet()
}

// saved gives what a button of the page saves, as a hash, and opens nothing.
func (b *tab) saved(button string) (sha256 string) {
	b.t.Helper()
	eval[int](b, `window.kept = null, URL.createObjectURL = blob => { window.kept = blob; return "#"; }, 1`)
	eval[int](b, fmt.Sprintf(`document.getElementById(%q).click(), 1`, button))
	b.wait("a file", `window.kept !== null`)
	sum, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`window.kept.arrayBuffer().then(a => crypto.subtle.digest("SHA-256", a))
		.then(d => Array.from(new Uint8Array(d), v => v.toString(16).padStart(2, "0")).join(""))`, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatal(err)
	}
	return sum
}

// What the page saves is what the command writes with the same choices, itself with the planner in it too.
func TestPageSavesWhatTheCommandWrites(t *testing.T) {
	long(t)
	args := examples["steppe"]
	b := onPhone(t, pageOf(t, "steppe", "--planner"))
	b.again([2]string{"again-at", "Sulmeg"}, [2]string{"again-told", "Doverak: no 95 RON"})
	for _, s := range []struct {
		button string
		flags  []string
	}{
		{"again-save-gpx", []string{"--gpx", "-"}}, {"again-save-strip", []string{"--strip", "-"}},
		{"again-save-stops", []string{"--write-stops", "-"}}, {"again-save-page", []string{"--planner", "--html", "-"}},
	} {
		out, _ := lastpump(t, slices.Concat(args, []string{"--from", "Sulmeg", "--answer", "Doverak: no 95 RON"}, s.flags)...)
		if got, want := b.saved(s.button), fmt.Sprintf("%x", sha256.Sum256([]byte(out))); got != want {
			t.Errorf("%s: another file than with %q", s.button, s.flags)
		}
	}
	b.quiet()
}

// Pages with the planner in them hold to axe-core on a phone and on a desk, with all unfolded and a fault at a
// field; what is touched is 44 dots high.
func TestPlannerHoldsToAxe(t *testing.T) {
	long(t)
	rules := axe(t)
	for _, file := range []string{pageOf(t, "canyon", "--planner"), startOf(t)} {
		for _, wide := range []int64{360, 1280} {
			for _, scheme := range []string{"light", "dark"} {
				b := openTab(t, file, wide, command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
					Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
				eval[int](b, rules+`; document.querySelectorAll("details").forEach(d => { d.open = true; }); 1`)
				if strings.HasSuffix(file, "canyon.html") {
					b.again([2]string{"again-used", "1"})
				} else {
					b.planned()
				}
				for _, v := range b.violations() {
					t.Errorf("%s at %d, %s: %s", filepath.Base(file), wide, scheme, v)
				}
				for _, small := range eval[[]string](b, `Array.from(document.querySelectorAll("section.again, section.start")).flatMap(s =>
					Array.from(s.querySelectorAll("input:not([type=checkbox]), select, textarea, button, summary")))
					.filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.9).map(e => e.outerHTML.slice(0, 80))`) {
					t.Errorf("%s at %d: under 44 dots: %s", filepath.Base(file), wide, small)
				}
				if out := eval[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); out > 0 {
					t.Errorf("%s at %d: %d dots stick out", filepath.Base(file), wide, out)
				}
				b.quiet()
			}
		}
	}
}

// Without a script the page with the planner shows what the one without it shows.
func TestPlannerWithoutScript(t *testing.T) {
	long(t)
	off := command(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	var texts []string
	for _, more := range [][]string{nil, {"--planner"}} {
		texts = append(texts, eval[string](openTab(t, pageOf(t, "steppe", more...), 360, off), `document.body.innerText`))
	}
	if len(texts[0]) < 1000 || texts[0] != texts[1] {
		t.Error("they show different texts")
	}
}

// Where one is follows the last stop that is ticked, whichever of its passings that is, until something
// else is typed; with stops ticked it has to be said. A figure alone in the tank is litres.
func TestPageFollowsTheTicks(t *testing.T) {
	long(t)
	args := examples["steppe"]
	b := onPhone(t, pageOf(t, "steppe", "--planner"))
	ticked := func(n int) string {
		return eval[string](b, fmt.Sprintf(`(() => {
			document.getElementById("again-fold").open = false;
			const all = Array.from(document.querySelectorAll("details.card")).filter(c => c.querySelector(".tick input"));
			all.slice(0, %d).forEach(c => { const t = c.querySelector(".tick input"); if (!t.checked) { t.click(); } });
			return all[%d].querySelector(".name").textContent;
		})()`, n, n-1))
	}
	opened := func(name, want string) {
		t.Helper()
		eval[int](b, `document.getElementById("again-fold").open = true, 1`)
		b.wait(name+" in the field", fmt.Sprintf(`document.getElementById("again-at").value === %q`, want))
	}
	kembil := []string{"Kembil, 948.2km", "Kembil, 1174.6km"}
	for _, n := range []int{2, 4, 8, 9, 10} {
		name := ticked(n)
		if name == "Kembil" && len(kembil) > 0 {
			opened(name, kembil[0])
			kembil = kembil[1:]
			continue
		}
		opened(name, name)
	}
	if len(kembil) > 0 {
		t.Errorf("not ticked: %v", kembil)
	}
	if got := b.again([2]string{"again-at", ""}); got != "" ||
		!strings.Contains(eval[string](b, `document.querySelector("#again-at + p.fault, #again-at ~ p.fault").innerText`), "say where you are") {
		t.Errorf("with stops ticked and no place: %.40q", got)
	}
	for _, tank := range []string{"6", "6,0 l"} {
		got := b.again([2]string{"again-at", "Sulmeg"}, [2]string{"again-tank", tank})
		if want := plannedAs(t, args, "--from", "Sulmeg", "--start-fuel", strings.TrimSuffix(strings.Replace(tank, ",", ".", 1), " l")+"L"); withoutVersion(got) != want {
			t.Errorf("%q in the tank: the page says %q", tank, b.said())
		}
	}
	b.quiet()
}
