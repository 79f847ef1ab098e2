module minim

go 1.26

require (
	go.yaml.in/yaml/v4 v4.0.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
