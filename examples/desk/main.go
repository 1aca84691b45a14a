// Command desk is a small front end in the browser: the draft on the left,
// what roundel says of it on the right, worked anew as you type.
//
//	go run ./examples/desk examples/tideline.rnd
//
// and open http://127.0.0.1:8080. It listens on this machine only, unless
// -addr says otherwise, keeps nothing, and needs no more than the public
// packages of roundel and the standard library. Without scripts the button
// does the same.
package main

import (
	"flag"
	"fmt"
	"log"
	"net/http"
	"os"
	"time"
)

func main() {
	log.SetFlags(0)
	addr := flag.String("addr", "127.0.0.1:8080", "address to listen on")
	flag.Parse()
	draft := firstDraft
	switch {
	case flag.NArg() > 1:
		log.Fatal("usage: desk [-addr ADDRESS] [FILE]")
	case flag.NArg() == 1:
		text, err := os.ReadFile(flag.Arg(0))
		if err != nil {
			log.Fatal(err)
		}
		draft = string(text)
	}
	server := &http.Server{
		Addr:              *addr,
		Handler:           handler(draft),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      2 * workTime,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
	}
	fmt.Printf("http://%s\n", *addr)
	log.Fatal(server.ListenAndServe())
}

// firstDraft is shown when no file is named.
const firstDraft = `motif "Group square"
shape square
gauge 14 dc by 7.5 rnds over 10 cm
yarn sand "oat", colour "#d8c6a0", 200 m per 100 g
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc
rnd 2: [(3 dc, corner ch 2, 3 dc) in corner] 4 times = 24 dc
rnd 3: [(3 dc, corner ch 2, 3 dc) in corner, 3 dc in next gap] 4 times = 36 dc
`
