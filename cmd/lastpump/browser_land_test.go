package main

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// With a map under the sketch no text lies on another and all of it stands out, in light and dark, on a
// phone and on a desk: what is ridden comes first, and names of the map only where there is room.
func TestPageOverLandIsReadable(t *testing.T) {
	browser(t)
	out := t.TempDir()
	lastpump(t, "survey", "../../examples/steppe/loop.gpx", "--map", "../../examples/steppe/map.osm", "--pump-scale", "RON", "--out", out)
	file := pageOf(t, "steppe", "--land", filepath.Join(out, "land.json"))
	for _, wide := range widths {
		t.Run(fmt.Sprint(wide), func(t *testing.T) {
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
