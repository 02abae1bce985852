//go:build !js

package planning

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/planner"
	"lastpump/cmd/lastpump/internal/report/page"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

// Page is the command that writes the planner as a page.
func Page(a *app.App) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "page --out FILE|DIR/",
		Short: "the planner as a page that anybody opens in a browser",
		Args:  app.NoArgs,
		RunE:  func(*cobra.Command, []string) error { return writePage(a, out) },
	}
	c.Flags().StringVar(&out, "out", "", "")
	return c
}

// writePage writes the planner as a page: a file, or a folder for a static server.
func writePage(a *app.App, name string) error {
	if name == "" {
		return app.Misuse("page without a file to write", "lastpump page --out planner.html, or --out DIR/ for a server")
	}
	folder := strings.HasSuffix(name, "/") || strings.HasSuffix(name, string(filepath.Separator))
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		folder = true
	}
	out := output.Outputs{Stdout: a.Stdout}
	if ext := strings.ToLower(filepath.Ext(name)); !folder && name != "-" && ext != ".html" && ext != ".htm" {
		return app.Misuse(fmt.Sprintf("page --out %s is no page", name),
			"call it planner.html, or DIR/ with a slash for a server")
	}
	if !folder {
		out.Add(name, func(w io.Writer) error { return page.WritePlanner(w, false) })
		return out.Write()
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
		return output.Error(name, err)
	}
	for _, f := range slices.Sorted(maps.Keys(files)) {
		out.Add(filepath.Join(name, f), func(w io.Writer) error {
			_, err := w.Write(files[f])
			return err
		})
	}
	out.Add("-", func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "%s: for any static server (https); open index.html in it\n", input.OneLine(filepath.Clean(name)))
		return err
	})
	return out.Write()
}
