package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"lastpump/testdata/kit"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// axeCore is the program that looks for what keeps people out of a page: its rules are another's.
const axeCore = "axe-core@4.14.1"

// axe gives the text of that program, installed by npm into a folder of the test.
func axe(t *testing.T) string {
	t.Helper()
	npm, dir := kit.Tool(t, "npm", "npm"), t.TempDir()
	install := exec.Command(npm, "install", "--silent", "--no-audit", "--no-fund", "--ignore-scripts",
		"--prefer-offline", "--fetch-retries", "1", "--prefix", dir, axeCore)
	if out, err := install.CombinedOutput(); err != nil {
		if os.Getenv("LASTPUMP_NEED_TOOLS") != "" {
			t.Fatalf("%s: %v\n%s", axeCore, err, out)
		}
		t.Skipf("%s cannot be installed: the page is not looked at with it", axeCore)
	}
	text, err := os.ReadFile(filepath.Join(dir, "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// violations has axe-core look at the page as it is: WCAG 2.2, levels A and AA, and best practices.
func (b *tab) violations() []string {
	b.t.Helper()
	got, err := chromedp.Run(b.ctx, chromedp.Evaluate[[]string](`axe.run({runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"]})
		.then(r => (r.passes.length < 20 ? ["only " + r.passes.length + " rules were looked at"] : []).concat(
			r.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(" // "))))`, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatal(err)
	}
	return got
}

// axe-core finds nothing on a phone and on a desk, light and dark, with all unfolded and a leg lit,
// in the long run as the page opens, too; a page that is spoilt shows that it looks.
func TestPageHoldsToAxe(t *testing.T) {
	browser(t)
	rules := axe(t)
	messy := rowOfPumpsWith(t, []string{strings.Repeat("Seventy letters ", 5)[:70], "محطة وقود الشمال 12 North", "天山南路加油站二号",
		"<script>alert(1)</script>"}, onTheClock...)
	steppe := pageOf(t, "steppe", onTheClock...)
	looks := []struct {
		file, scheme string
		wide         int64
	}{
		{steppe, "light", 360}, {messy, "dark", 1280}, // the others in the long run
		{steppe, "dark", 360}, {steppe, "light", 1280}, {steppe, "dark", 1280},
		{messy, "light", 360}, {messy, "dark", 360}, {messy, "light", 1280},
	}
	if !kit.Long() {
		looks = looks[:2]
	}
	for _, l := range looks {
		b := openTab(t, l.file, l.wide, command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: l.scheme}}}))
		eval[int](b, rules+"; 1")
		look := func(what string) {
			for _, v := range b.violations() {
				t.Errorf("%s at %d, %s, %s: %s", filepath.Base(l.file), l.wide, l.scheme, what, v)
			}
		}
		if kit.Long() {
			look("folded")
		}
		eval[int](b, `document.querySelectorAll("details").forEach(d => { d.open = true; }), document.querySelector('.legs a[data-leg="2"]').click(), 1`)
		look("unfolded")
	}
	b := openTab(t, messy, 360)
	eval[int](b, rules+`; document.documentElement.removeAttribute("lang"); document.querySelector("#reader").id = ""; document.querySelector(".ride").open = true; 1`)
	if got := fmt.Sprint(b.violations()); !strings.Contains(got, "html-has-lang") || !strings.Contains(got, "label") {
		t.Errorf("of a page without a language, and a slider without a name, it says %s", got)
	}
}
