# Reduces a day and checks it against control; the exit code says what came of it.
param(
  [Parameter(Mandatory)] [string] $Fixes,
  [Parameter(Mandatory)] [string] $Session,
  [Parameter(Mandatory)] [string] $Control,
  [Parameter(Mandatory)] [string] $Folder
)
New-Item -ItemType Directory -Force $Folder | Out-Null

pegbook reduce-points $Fixes --session $Session -o "$Folder/points.csv" --record "$Folder/run.json" `
  --problems "$Folder/problems.jsonl" --report "$Folder/day.html" --force -q
if ($LASTEXITCODE -gt 1) { exit $LASTEXITCODE }
$record = Get-Content "$Folder/run.json" -Raw | ConvertFrom-Json
if ($record.verdict -ne 'within') { [Console]::Error.WriteLine("some points need a look: see $Folder/day.html") }

pegbook check-tolerances "$Folder/points.csv" --session $Session --control $Control `
  --limit-horizontal 0.10 --limit-vertical 0.20 --junit "$Folder/verdicts.xml" `
  -o "$Folder/control-checks.csv" --report "$Folder/checks.html" --force -q
exit $LASTEXITCODE
