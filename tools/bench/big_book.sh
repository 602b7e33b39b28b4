#!/usr/bin/env bash
# Makes a job book of many invented parts and photos, without pictures, to measure finding in. Usage:
# tools/bench/big_book.sh FOLDER [parts] [photos a part]     (100000 parts with 10 photos each unless said otherwise)
set -euo pipefail
cd "$(dirname "$0")/../.."
book=${1:?a folder for the book}
parts=${2:-100000}
photos_each=${3:-10}
[ "$parts" -le 99999 ] || parts=99999 # a book's tags have five digits
tools/build.sh release stripbook >/dev/null
stripbook=build/release/tools/stripbook/stripbook
"$stripbook" start "$book" --code PET --title "A big book" >/dev/null

# The parts list goes the usual way; the photos' rows are written straight into book.db.
awk -v n="$parts" 'BEGIN {
    split("bracket lever cover wedge spring nut washer bearing liner pin plate seal guide hanger link", name, " ")
    split("brake axlebox gearbox engine fuel door window roof floor coupling", what, " ")
    print "tag,name,assembly,place,storage"
    for (i = 1; i <= n; ++i)
        printf "PET-%05d,%s %s,%s / group %d,bay %d left,Rack %d / shelf %d\n", i, what[i % 10 + 1], name[i % 15 + 1],
               what[i % 10 + 1], i % 200, i % 40, i % 30, i % 7
}' >"$book/parts.csv"
"$stripbook" parts import "$book/parts.csv" --book "$book" >/dev/null
rm "$book/parts.csv"
sqlite3 -batch "$book/book.db" <<SQL
BEGIN;
INSERT INTO dump VALUES (1, CAST('/card' AS BLOB), '/card', '2026-03-20T08:00:00Z', '2026-03-20T08:00:00Z', 'done', 'bench');
INSERT INTO camera (id, maker, model, serial, card) VALUES (1, 'Ferrow', 'FV-20', 'A10442', '');
CREATE TEMP TABLE listed AS SELECT row_number() OVER (ORDER BY tag) AS n, tag FROM part;
CREATE TEMP TABLE shot AS
    WITH RECURSIVE k (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM k WHERE i + 1 < $photos_each)
    SELECT (n - 1) * $photos_each + i + 1 AS number, tag FROM listed, k;
INSERT INTO original SELECT number, printf('%064x', number), 1000, printf('photos/0001/P%07d.JPG', number), 'photo' FROM shot;
INSERT INTO card_file SELECT number, 1, number, CAST(printf('P%07d.JPG', number) AS BLOB), printf('P%07d.JPG', number), 1000, number FROM shot;
INSERT INTO photo (number, original, card_file, camera, time_s, time_text, time_utc_offset, time_source, dcf_directory, dcf_counter, read_state)
    SELECT number, number, number, 1, 1773900000 + number, '2026-03-20T09:00:00', '', 'EXIF', 0, 0, 'read' FROM shot;
INSERT INTO program_link SELECT number, tag, 'made up', 0.99 FROM shot;
INSERT INTO history (at, who, what, field, before, after, how)
    SELECT '2026-03-20T09:00:00Z', 'bench', 'p' || number, 'link', '', tag, 'made up' FROM shot;
COMMIT;
ANALYZE;
SQL
echo "$book: $("$stripbook" --version), $parts parts, $((parts * photos_each)) photos"
