//go:build !js

package planner

import (
	_ "embed"
	"encoding/base64"
)

//go:embed lastpump.wasm.gz
var packed []byte

// Program gives the command for WebAssembly as a page carries it: gzip in base64.
func Program() string { return base64.StdEncoding.EncodeToString(packed) }
