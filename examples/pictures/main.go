// Pictures makes the pictures of the README. From the root of the project
//
//	go run ./examples/pictures
//
// plans the steppe loop with every report that is looked at and writes a picture of each
// into its folder: page.png, phone.png, strip.png, home.png and map.png are what a browser and a reader of
// PDF show, gps.svg is drawn from the waypoints and the track of the GPX. It needs Chromium and
// pdftoppm (Debian's packages chromium and poppler-utils).
package main

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
)

func main() {
	if err := all("examples/steppe", "examples/pictures"); err != nil {
		fmt.Fprintln(os.Stderr, "pictures:", err)
		os.Exit(2)
	}
}

// all makes every picture of the loop in one folder and puts it into another.
func all(loop, out string) error {
	work, err := os.MkdirTemp("", "pictures")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	at := func(name string) string { return filepath.Join(work, name) }
	if err := plan(loop, work); err != nil {
		return err
	}
	if err := shoot(at); err != nil {
		return err
	}
	page, err := pages(at("page.png"))
	if err != nil {
		return err
	}
	phone, err := pages(at("phone.png"))
	if err != nil {
		return err
	}
	strip, err := pages(at("strip-*.png"))
	if err != nil {
		return err
	}
	home, err := pages(at("home-*.png"))
	if err != nil {
		return err
	}
	gps, err := waypoints(at("plan.gpx"))
	if err != nil {
		return err
	}
	return errors.Join(
		savePNG(filepath.Join(out, "page.png"), page[0]),
		savePNG(filepath.Join(out, "phone.png"), phone[0]),
		savePNG(filepath.Join(out, "strip.png"), row(cut(strip[0], 5))),
		savePNG(filepath.Join(out, "home.png"), row(home)),
		saveMap(at("map-*.png"), filepath.Join(out, "map.png")),
		os.WriteFile(filepath.Join(out, "gps.svg"), gps, 0o644),
	)
}

// saveMap shows the sheets of a river, of a way out and of a lake.
func saveMap(from, to string) error {
	maps, err := pages(from)
	if err != nil {
		return err
	}
	return savePNG(to, row([]image.Image{maps[3], maps[4], maps[7]}))
}

// shoot lets a browser and a reader of PDF show what was planned.
func shoot(at func(string) string) error {
	return errors.Join(
		run("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
			"--force-device-scale-factor=0.75",
			"--window-size=1216,1310", "--screenshot="+at("page.png"), "file://"+at("plan.html")),
		run("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
			"--window-size=412,800", "--screenshot="+at("phone.png"), "file://"+at("plan.html")),
		run("pdftoppm", "-r", "64", "-gray", "-png", at("strip.pdf"), at("strip")),
		run("pdftoppm", "-r", "54", "-gray", "-png", at("home.pdf"), at("home")),
		run("pdftoppm", "-r", "54", "-gray", "-png", at("map.pdf"), at("map")),
	)
}

// plan runs the program itself on a loop.
func plan(loop, out string) error {
	program := filepath.Join(out, "lastpump")
	if err := run("go", "build", "-o", program, "./cmd/lastpump"); err != nil {
		return err
	}
	in := func(name string) string { return filepath.Join(loop, name) }
	to := func(name string) string { return filepath.Join(out, name) }
	survey := filepath.Join(out, "survey")
	if err := run(program, "survey", in("loop.gpx"), "--map", in("map.osm"), "--pump-scale", "RON", "--ways-out", "40km",
		"--out", survey); err != nil {
		return err
	}
	land := []string{"--land", filepath.Join(survey, "land.json")}
	// The map alone shows a way out: with it the plan is another than that of the README's first screen.
	mapped := append([]string{"plan", in("loop.gpx"), "--stops", in("stops.csv"), "--stops", in("far.csv"), "--roads",
		filepath.Join(survey, "roads.csv"), "--ground", in("ground.csv"), "--bike", in("bike.toml"), "--date", "2026-07-01",
		"--map-sheet", to("map.pdf")}, land...)
	if err := holdsOrNot(run(program, mapped...)); err != nil {
		return err
	}
	return holdsOrNot(run(program, append([]string{"plan", in("loop.gpx"), "--stops", in("stops.csv"), "--ground", in("ground.csv"), "--bike",
		in("bike.toml"),
		"--date", "2026-07-01", "--html", to("plan.html"), "--strip", to("strip.pdf"), "--home", to("home.pdf"), "--gpx",
		to("plan.gpx")}, land...)...))
}

// holdsOrNot lets pass that a plan does not hold.
func holdsOrNot(err error) error {
	var fails *exec.ExitError
	if errors.As(err, &fails) && fails.ExitCode() == 1 {
		return nil // the plan says that it does not hold
	}
	return err
}

func run(name string, args ...string) error {
	c := exec.Command(name, args...)
	if out, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w\n%s", name, err, out)
	}
	return nil
}

// pages reads pictures in the order of their names.
func pages(pattern string) ([]image.Image, error) {
	names, err := filepath.Glob(pattern)
	if err != nil || len(names) == 0 {
		return nil, errors.Join(err, fmt.Errorf("no %s", pattern))
	}
	var out []image.Image
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		m, err := png.Decode(f)
		if err := errors.Join(err, f.Close()); err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// cut takes a long picture apart into pieces of one height.
func cut(m image.Image, n int) []image.Image {
	var out []image.Image
	b := m.Bounds()
	high := (b.Dy() + n - 1) / n
	for i := range n {
		piece := image.NewGray(image.Rect(0, 0, b.Dx(), high))
		draw.Draw(piece, piece.Bounds(), image.White, image.Point{}, draw.Src)
		draw.Draw(piece, piece.Bounds(), m, image.Pt(b.Min.X, b.Min.Y+i*high), draw.Src)
		out = append(out, piece)
	}
	return out
}

// row puts pictures side by side on grey, as paper lies on a table.
func row(list []image.Image) image.Image {
	const gap = 8
	wide, high := gap, 0
	for _, m := range list {
		wide, high = wide+m.Bounds().Dx()+gap, max(high, m.Bounds().Dy())
	}
	out := image.NewGray(image.Rect(0, 0, wide, high+2*gap))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.Gray{0xb8}), image.Point{}, draw.Src)
	x := gap
	for _, m := range list {
		draw.Draw(out, m.Bounds().Sub(m.Bounds().Min).Add(image.Pt(x, gap)), m, m.Bounds().Min, draw.Src)
		x += m.Bounds().Dx() + gap
	}
	return out
}

func savePNG(name string, m image.Image) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	e := png.Encoder{CompressionLevel: png.BestCompression}
	return errors.Join(e.Encode(f, m), f.Close())
}
