//go:build !js

package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/planner"
	"lastpump/cmd/lastpump/internal/report/page"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

func (a *app) pageCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "page --out FILE|DIR/",
		Short: "the planner as a page that anybody opens in a browser",
		Args:  noArgs,
		RunE:  func(*cobra.Command, []string) error { return a.page(out) },
	}
	c.Flags().StringVar(&out, "out", "", "")
	return c
}

// page writes the planner as a page: a file, or a folder for a static server.
func (a *app) page(name string) error {
	if name == "" {
		return &usageError{"page without a file to write", "lastpump page --out planner.html, or --out DIR/ for a server"}
	}
	folder := strings.HasSuffix(name, "/") || strings.HasSuffix(name, string(filepath.Separator))
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		folder = true
	}
	out := outputs{stdout: a.stdout}
	if ext := strings.ToLower(filepath.Ext(name)); !folder && name != "-" && ext != ".html" && ext != ".htm" {
		return &usageError{fmt.Sprintf("page --out %s is no page", name), "call it planner.html, or DIR/ with a slash for a server"}
	}
	if !folder {
		out.add(name, func(w io.Writer) error { return page.WritePlanner(w, false) })
		return out.write()
	}
	var index bytes.Buffer
	if err := page.WritePlanner(&index, true); err != nil {
		return err
	}
	files, err := planner.Site(index.Bytes())
	if err != nil {
		return err
	}
	if err := os.MkdirAll(name, 0o755); err != nil {
		return outputError(name, err)
	}
	for _, f := range slices.Sorted(maps.Keys(files)) {
		out.add(filepath.Join(name, f), func(w io.Writer) error {
			_, err := w.Write(files[f])
			return err
		})
	}
	out.add("-", func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "%s: for any static server (https); open index.html in it\n", input.OneLine(filepath.Clean(name)))
		return err
	})
	return out.write()
}
