package jobfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"

	"grainstack/slicing/disk"
	"grainstack/slicing/hours"
	"grainstack/slicing/phrase"
)

// recordsLimit is the most bytes that a file of minutes may hold: some ten thousand sides.
const recordsLimit = 2 << 20

// LoadRecords reads the minutes that sides really took; a file that is not there holds none.
func LoadRecords(path string) ([]hours.Record, error) {
	text, err := disk.ReadText(path, recordsLimit)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var all []hours.Record
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, fmt.Errorf("%s: the minutes can't be read: put it away and begin a new one (%w)", phrase.Name(path), phrase.JSON(text, err))
	}
	for i, r := range all {
		if !(r.Took >= 0) || !(r.Reckoned >= 0) || math.IsInf(r.Took, 0) || math.IsInf(r.Reckoned, 0) {
			return nil, fmt.Errorf("%s: entry %d is no time", phrase.Name(path), i+1)
		}
	}
	return all, nil
}

// SaveRecords writes the minutes, wholly or not at all.
func SaveRecords(path string, all []hours.Record) error {
	text, err := json.MarshalIndent(all, "", "  ")
	if err != nil {
		return err
	}
	if err := disk.WriteFile(path, append(text, '\n')); err != nil {
		return fmt.Errorf("the minutes are not saved: %w", err)
	}
	return nil
}
