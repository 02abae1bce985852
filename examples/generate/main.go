// Generate draws the two example loops, steppe and canyon, in country that
// does not exist: no road, pump, town or telephone in them is real. From the
// root of the project
//
//	go run ./examples/generate
//
// writes them anew, the same bytes each time: the seeds are fixed, and there is
// no clock and no map order in it.
//
// The work is a pipeline:
//
//  1. land: a relief made of gradient noise, from plains to ridges;
//  2. way: the cheapest way over a 1 km grid of it, from town to town, which
//     finds valleys and passes as real roads do;
//  3. ride: the road itself, 5 m at a time along that way, winding, shy of
//     steep ground, in hairpins where it cannot be shy;
//  4. record or draw: the ride as a recorder on the bars would have kept it
//     (steppe), or as somebody would have drawn it on a map (canyon);
//  5. files: the track, the stops and the ground of it.
//
// A real track would do as well, but it would carry somebody's home and habits.
// The tests of the parent folder measure the loops against recorded rides.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	out := flag.String("out", "examples", "the folder to write to")
	flag.Parse()
	if err := write(*out, generate()); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(2)
	}
}

// A file is a name below the examples folder, with slashes, and its bytes.
type file struct {
	name string
	data []byte
}

// generate makes every file of the examples, truth.csv last: the length of the
// ground that was ridden, which no file of a loop says and a test wants.
func generate() []file {
	var files []file
	truth := []byte("name,dense_km\n")
	for _, s := range []scenario{steppe, canyon} {
		l := s.lay()
		files = append(files, l.files()...)
		truth = fmt.Appendf(truth, "%s,%.3f\n", s.name, l.dense/1000)
	}
	return append(files, file{"truth.csv", truth})
}

// write puts the files into dir, making folders as needed.
func write(dir string, files []file) error {
	for _, f := range files {
		path := filepath.Join(dir, filepath.FromSlash(f.name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, f.data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
