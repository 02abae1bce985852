package osmmap

import (
	"io"
	"sync"
)

// ahead reads in a goroutine of its own, a few pieces ahead of who reads from it.
type ahead struct {
	pieces  chan piece
	stopped chan struct{}
	gone    sync.WaitGroup
	now     piece
}

type piece struct {
	data []byte
	err  error
}

const pieceSize = 256 << 10

func readAhead(r io.Reader) *ahead {
	a := &ahead{pieces: make(chan piece, 4), stopped: make(chan struct{})}
	a.gone.Go(func() {
		for {
			p := piece{data: make([]byte, pieceSize)}
			var n int
			n, p.err = io.ReadFull(r, p.data)
			if p.err == io.ErrUnexpectedEOF && n > 0 {
				// The end, or a cut that the next read would tell again.
				_, p.err = r.Read(make([]byte, 1))
			}
			p.data = p.data[:n]
			select {
			case a.pieces <- p:
			case <-a.stopped:
				return
			}
			if p.err != nil {
				return
			}
		}
	})
	return a
}

func (a *ahead) Read(p []byte) (int, error) {
	for len(a.now.data) == 0 {
		if a.now.err != nil {
			return 0, a.now.err
		}
		select {
		case a.now = <-a.pieces:
		case <-a.stopped:
			return 0, io.ErrClosedPipe
		}
	}
	n := copy(p, a.now.data)
	a.now.data = a.now.data[n:]
	return n, nil
}

// stop ends the goroutine and waits for it; it is called once, when nothing is read any
// more.
func (a *ahead) stop() {
	close(a.stopped)
	a.gone.Wait()
}
