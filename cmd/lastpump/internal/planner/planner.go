// Package planner is what a page carries so that it can plan: the whole command for WebAssembly, the
// scripts that run it in a worker on files in memory, and what the ride was planned from. Start with
// [Pack].
//
// The idea that surprises: nothing of the planner is written twice. The page runs the very command with
// the flags of its form, and takes the new page, the plan as JSON and every file that is saved from it.
package planner

import (
	"bytes"
	"compress/gzip"
	"embed"
	"encoding/base64"
	"encoding/json"
	"strings"
)

//go:generate go run ./build

//go:embed js/*
var scripts embed.FS

// A Ride is what a page plans its ride from.
type Ride struct {
	Loops  []string    `json:"loops"` // the files of the loop, in the order of the ride
	Said   [][2]string `json:"said"`  // flags and their values, but those of reports
	Places []Place     `json:"places"`
	Files  []File      `json:"files"`
}

// A File is one that a ride was planned from, by the name that was given.
type File struct {
	Name string `json:"name"`
	Size int    `json:"size"` // bytes
	Text []byte `json:"-"`
}

// A Place is where a rider may say that he is: the name of a stop, with a kilometre where the ride passes
// it more than once.
type Place struct {
	Name string `json:"name"`
	From string `json:"from"` // as the flag takes it
	Skip bool   `json:"skip"` // the first of its name
}

// Packed is a ride as a page carries it.
type Packed struct {
	Ride  string // JSON
	Files string // the texts of its files one after the other, gzip in base64
}

// Pack packs a ride.
func Pack(r Ride) (Packed, error) {
	r.Loops, r.Said, r.Places, r.Files = list(r.Loops), list(r.Said), list(r.Places), list(r.Files)
	var texts bytes.Buffer
	w, err := gzip.NewWriterLevel(&texts, gzip.BestCompression)
	if err != nil {
		return Packed{}, err
	}
	for i, f := range r.Files {
		r.Files[i].Size = len(f.Text)
		if _, err := w.Write(f.Text); err != nil {
			return Packed{}, err
		}
	}
	if err := w.Close(); err != nil {
		return Packed{}, err
	}
	ride, err := json.Marshal(r)
	return Packed{string(ride), base64.StdEncoding.EncodeToString(texts.Bytes())}, err
}

// list is never null in JSON.
func list[T any](s []T) []T { return append([]T{}, s...) }

// Worker gives the script that runs the command in a worker, with the licence of what is Go's in it.
func Worker() (string, error) {
	licence, err := scripts.ReadFile("js/wasm_exec-LICENSE.txt")
	if err != nil {
		return "", err
	}
	text, err := joined("wasm_exec.js", "memory.js", "worker.js")
	return "/* The first part:\n" + string(licence) + "*/\n" + text, err
}

// Script gives the script that fills the form in, has the worker plan and shows what comes of it.
func Script() (string, error) { return joined("runner.js", "form.js", "files.js") }

func joined(names ...string) (string, error) {
	var all []string
	for _, name := range names {
		text, err := scripts.ReadFile("js/" + name)
		if err != nil {
			return "", err
		}
		all = append(all, string(text))
	}
	return strings.Join(all, "\n"), nil
}
