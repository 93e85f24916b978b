package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"grainstack/slicing/phrase"
)

// A usageError is a command line that can't be understood.
type usageError struct{ fault string }

func (e *usageError) Error() string { return e.fault }

// tell tells the maker something line by line, with nothing in it that could act on the terminal.
func tell(text string, to io.Writer) {
	for line := range strings.Lines(text) {
		fmt.Fprintln(to, "grainstack:", phrase.Name(strings.TrimRight(line, "\n")))
	}
}

// printJSON prints a result.
func printJSON(out io.Writer, result any) error {
	enc := json.NewEncoder(out)
	enc.SetIndent("", "  ")
	if err := enc.Encode(result); err != nil {
		return fmt.Errorf("the figures can't be printed: %w", err)
	}
	return nil
}
