package job

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"

	"grainstack/slicing/hours"

	"github.com/google/renameio/v2"
)

// recordsLimit is the most bytes that a file of minutes may hold: some ten thousand sides.
const recordsLimit = 2 << 20

// LoadRecords reads the minutes that sides really took; a file that is not there holds none.
func LoadRecords(path string) ([]hours.Record, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, recordsLimit+1))
	if err != nil {
		return nil, err
	}
	if len(text) > recordsLimit {
		return nil, fmt.Errorf("%s holds more than %d bytes of minutes: put it away and begin a new one", path, recordsLimit)
	}
	var all []hours.Record
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, fmt.Errorf("%s: the minutes can't be read: put it away and begin a new one (%w)", path, err)
	}
	for i, r := range all {
		if !(r.Took >= 0) || !(r.Reckoned >= 0) || math.IsInf(r.Took, 0) || math.IsInf(r.Reckoned, 0) {
			return nil, fmt.Errorf("%s: entry %d is no time", path, i+1)
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
	if err := renameio.WriteFile(path, append(text, '\n'), 0o644); err != nil {
		return fmt.Errorf("the minutes are not saved: %w", err)
	}
	return nil
}
