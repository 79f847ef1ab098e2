# Completion of minim for PowerShell:
# minim completion powershell | Out-String | Invoke-Expression

Register-ArgumentCompleter -Native -CommandName minim -ScriptBlock {
    param($word, $line, $cursor)
    $words = @($line.CommandElements |
        Where-Object { $_.Extent.StartOffset -lt $cursor } |
        ForEach-Object { $_.Extent.Text.Trim([char[]]"`"'") })
    $rest = @($words | Select-Object -Skip 1)
    if ($word -eq '') { $found = & $words[0] complete --new '--' @rest }
    else { $found = & $words[0] complete '--' @rest }
    $found | ForEach-Object {
        $text, $about = $_ -split "`t", 2
        if (-not $about) { $about = $text }
        $inserted = $text
        if ($text -match "[\s,;()'&]") { $inserted = "'" + $text.Replace("'", "''") + "'" }
        [System.Management.Automation.CompletionResult]::new($inserted, $text, 'ParameterValue', $about)
    }
}
