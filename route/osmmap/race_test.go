//go:build race

package osmmap

// raceDetector tells that every step is watched, which makes reading XML and looking at
// all objects of a map ten times as slow.
const raceDetector = true
