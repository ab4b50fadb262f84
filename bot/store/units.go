package store

import (
	"reflect"

	"tankside/engine/unit"
)

var unitPointer = reflect.TypeFor[*unit.Unit]()

// sameUnits makes every unit in what was read the one of the unit table. Reading
// JSON makes copies, and units are compared by pointer everywhere else.
func sameUnits(v reflect.Value) {
	if v.Type() == unitPointer {
		if u, _ := v.Interface().(*unit.Unit); u != nil {
			v.Set(reflect.ValueOf(unit.Find(u.Symbol)))
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			sameUnits(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				sameUnits(v.Field(i))
			}
		}
	case reflect.Slice, reflect.Array:
		if !plain(v.Type().Elem()) {
			for i := range v.Len() {
				sameUnits(v.Index(i))
			}
		}
	}
}

// plain is a type that cannot hold a unit.
func plain(t reflect.Type) bool {
	k := t.Kind()
	return k != reflect.Struct && k != reflect.Pointer && k != reflect.Slice && k != reflect.Array
}
