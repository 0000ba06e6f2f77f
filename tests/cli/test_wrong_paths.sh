#!/bin/bash
# Wrong, missing, empty and odd files, folders and names, as a user gives them by a slip: each ends with its code, says
# one thing to do, and leaves nothing behind.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

folder=$(copy_samples wrong)
plan=$folder/plans/mara.yaml
cd "$scratch" || exit 1
mkdir empty-folder
: >empty.yaml
printf 'a\0b' >nul.yaml
head -c 3000 /dev/urandom >bytes.yaml
mkfifo pipe
long=$(printf 'x%.0s' {1..300})

for command in check packet workings; do
	for file in empty.yaml nul.yaml bytes.yaml; do
		ends 1 "$command of $file" "$program" $command "$file" --clinic "$folder"
		holds "$command of $file says why" "$scratch/err" ": stop: "
	done
	for file in nobody.yaml - '' "$long"; do
		ends 3 "$command of a file that is not there: '${file:0:12}'" "$program" $command "$file" --clinic "$folder"
		holds "and says so: '${file:0:12}'" "$scratch/err" "cannot be read"
	done
	for file in /dev/null pipe; do
		ends 3 "$command of $file, which is no file, is not waited for" "$program" $command "$file" --clinic "$folder"
		holds "$command of $file says so" "$scratch/err" "a pipe or a device"
	done
done
ends 3 "packet of a folder" "$program" packet empty-folder --clinic "$folder"

# A folder of plans is no clinic: saying nothing about it would pass for 'all is well'.
ends 1 "check of a folder of plans" "$program" check "$folder/plans"
holds "says that it is no clinic" "$scratch/err" "has no clinic.yaml" "plans one by one"
ends 1 "check of an empty folder beside a named clinic" "$program" check empty-folder --clinic "$folder"
ends 0 "check of the folder itself, whatever is set" env FILLMARK_CLINIC=/nowhere "$program" check "$folder"
ends 1 "signing in a folder that is no clinic" "$program" sign "$folder/plans" --by Nurse
ends 2 "signing a part of a plan" "$program" sign "$plan" growth --by Nurse
same "nothing was signed" "$(cat "$samples/signatures.csv")" "$(cat "$folder/signatures.csv")"

# What is no file is never replaced by one.
for target in pipe empty-folder /nowhere/mara.pdf "$long.pdf"; do
	ends 3 "packet into ${target:0:20}" "$program" packet "$plan" -o "$target" --quiet
done
[ -p pipe ]
result $? "the pipe is still one"
ends 2 "packet into '-'" "$program" packet "$plan" -o -
ends 2 "packet into nothing" "$program" packet "$plan" -o ''
same "no file was left" "bytes.yaml clinic-wrong empty-folder empty.yaml err nul.yaml out pipe said" "$(echo *)"

tap_end
