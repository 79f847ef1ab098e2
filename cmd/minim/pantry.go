package main

var pantryCommand = command{
	name:     "pantry",
	synopsis: "pantry COMMAND",
	summary:  "look at the shelf, check it, measure it",
	about: `Looks into the built-in pantry with your own CSVs and measurements over it,
checks and cleans what a spreadsheet wrote, and records what you measure.`,
	commands: []command{
		pantryListCommand, pantryShowCommand, pantryCheckCommand, pantryLotCommand, pantryMeasureCommand, pantryImportCommand, pantryExportCommand,
	},
}
