//go:build !js

package planner

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"strings"
)

//go:embed site/*
var site embed.FS

// Site gives the files of a folder that a static server serves, by their names: the page, a manifest, by
// which a browser installs it, and a service worker, which keeps it where there is no network.
func Site(page []byte) (map[string][]byte, error) {
	out := map[string][]byte{"index.html": page}
	for _, name := range []string{"manifest.webmanifest", "icon.svg", "worker.js"} {
		text, err := site.ReadFile("site/" + name)
		if err != nil {
			return nil, err
		}
		out[name] = text
	}
	sum := sha256.Sum256(page)
	out["worker.js"] = []byte(strings.ReplaceAll(string(out["worker.js"]), "@version@", hex.EncodeToString(sum[:8])))
	return out, nil
}
