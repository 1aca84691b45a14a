package main

import "os"

func Example() {
	colours(os.Stdout, "..", "tideline.rnd")
	// Output:
	// reed: 44 ch 64 dc 148 sc
	// sand: 40 ch 604 dc
	// slate: 8 ch 64 dc 12 hdc 24 tr
}
