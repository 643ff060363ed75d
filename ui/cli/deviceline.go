package cli

import (
	"encoding/csv"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"cellar.local/glassrow/model"
)

// deviceLine is one line of what a device says: whose, and what.
type deviceLine struct {
	name    string // as the line names the batch
	reading model.DeviceReading
}

// parseDeviceLine understands a line of time, label and reading, as CSV. Each line is
// read by itself, so that a quote left open costs that line and not the rest of the file.
func parseDeviceLine(text string, now time.Time) (deviceLine, error) {
	fields, err := deviceFields(text)
	if err != nil {
		return deviceLine{}, err
	}
	at, err := model.ParseWhen(fields[0], now)
	if err != nil {
		return deviceLine{}, err
	}
	name := strings.TrimSpace(fields[1])
	if name == "" {
		return deviceLine{}, errors.New("it names no batch; write time,label,reading")
	}
	r, err := model.ParseReading(fields[2], model.DefaultCalibration)
	if err != nil {
		return deviceLine{}, err
	}
	d, err := model.DeviceReadingOf(r, at)
	return deviceLine{name, d}, err
}

// deviceFields cuts a line into its three fields.
func deviceFields(text string) ([]string, error) {
	if !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) && r != '\t' }) {
		return nil, errors.New("it holds characters that are not text")
	}
	r := csv.NewReader(strings.NewReader(text))
	r.TrimLeadingSpace = true
	fields, err := r.Read()
	if err != nil {
		return nil, errors.New("a quote in it is not closed, or stands in the middle of a field")
	}
	if len(fields) != 3 {
		return nil, fmt.Errorf("it has %d of the three fields time,label,reading; one with a comma in it stands in quotes", len(fields))
	}
	return fields, nil
}

// isDeviceHeading reports whether a line names the fields: its reading has no figure.
func isDeviceHeading(text string) bool {
	fields, err := deviceFields(text)
	return err == nil && !strings.ContainsAny(fields[2], "0123456789") && !strings.ContainsAny(fields[0], "0123456789")
}
