# The life of a batch from its recipe to the tenth bottle, as somebody may write it down
# who has the readings on paper. Answers go to standard output, an object a line after
# a name; TestLife_ByShellScript reads them.

export GLASSROW_CELLAR=cellar.db
quiet() { glassrow "$@" >/dev/null; }
say() { # name command...
	name=$1
	shift
	printf '%s %s\n' "$name" "$(glassrow "$@" --json)"
}

say vessel vessel add N1 --kind bucket --capacity 23L --tare 1.2kg
say carboy vessel add N2 --kind carboy --capacity 20L --tare 6.4kg --place 'north shelf'
say demijohn vessel add N3 --kind demijohn --capacity 5L --tare 1.9kg
say settings settings --name 'Creek cellar' --price honey=12.50

say recipe recipe keep 'Creek melomel' --kind mead --volume 19L --add honey --add 'damson 3kg' --to 1.095 \
	--add 'calcium carbonate' --ph 3.3-3.5 --nutrient 'DAP in quarters' --yeast high
say started recipe start 'Creek melomel' --vessel N1 --at 2024-02-01T18:00
say pitched pitch N1 --yeast high --name 'second packet' --tolerance 16 --at 2024-02-02T09:00
quiet record N1 1.092 @20c ph3.5 --at 2024-02-02T18:00
say fed1 due done N1 feed:2:1 --at 2024-02-02T18:05
say fed2 due done N1 feed:2:2 --at 2024-02-03T18:05
say stirred due done N1 stir --at 2024-02-03T18:10
say fed3 feed N1 'DAP 4.3g' --at 2024-02-04T18:00
quiet record N1 1.060 --at 2024-02-06T18:00
say fed4 due done N1 feed:2:4 --at 2024-02-06T18:10
if glassrow due | grep -q feed:2; then
	echo 'a dose is still due' >&2
	exit 1
fi

say pressed press N1 --left 18.5L --at 2024-02-10T18:00
quiet record N1 1.012 --at 2024-02-16T18:00
quiet record N1 0.995 --at 2024-02-28T18:00
say racked rack N1 --to N2 --volume 17.5L --at 2024-03-03T18:00
say weighed record N2 24.0kg --at 2024-03-03T18:20
quiet record N2 0.994 ph3.5 --at 2024-03-20T18:00
quiet record N2 0.994 --at 2024-03-28T18:00

say split split N2 --to N3 --volume 4.5L --name 'Creek melomel, sweet' --at 2024-04-01T18:00
say stable stabilise N3 --commit --at 2024-04-02T18:00
say kept plan keep N3 wedding --with honey --and erythritol --share 60% --to 'taste 30'
say sweetened sweeten N3 --plan wedding --commit --at 2024-04-03T18:00
say tried blend N2 --from N3 --volume 1L --try --at 2024-04-20T18:00
say blended blend N2 --from N3 --volume 1L --at 2024-04-20T18:00
say sulfited stabilise N2 --sulfite 0.9g --sorbate 3g --commit --at 2024-04-22T18:00
say topped topup N2 --water 300mL --at 2024-04-22T18:00
say fined fine N2 'bentonite 10g' --at 2024-04-23T18:00
quiet record N2 0.996 --at 2024-05-20T18:00
quiet record N2 0.996 --at 2024-05-28T18:00

say bottled bottle N2 --count 18 --size 750mL --closure cork --at 2024-05-30T18:00
for n in 1 2 3 4 5 6 7 8 9; do
	quiet taste 'Creek melomel' --mark "$n" --words "bottle $n" --at "2024-06-1${n}T20:00"
done
say tenth taste 'Creek melomel' --mark 9,5 --words 'the tenth: "long"; <b>' --at 2024-07-01T20:00

glassrow sheet 'Creek melomel' --html >sheet.html
glassrow due --ics >cellar.ics
glassrow export - >cellar.jsonl
say imported import cellar.jsonl --cellar other.db
glassrow export - --cellar other.db >again.jsonl
say checked check
say copied backup copy.db
quiet note N3 'written after the copy'
say restored restore copy.db
glassrow export - >restored.jsonl

# What is wrong is said on standard error alone, and fails.
if wrong=$(glassrow record N9 1.000 --json 2>/dev/null); then
	echo 'a reading of no vessel went through' >&2
	exit 1
fi
test -z "$wrong"
