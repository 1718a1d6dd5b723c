using System.Globalization;
using System.Text;
using CsCheck;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class BlockSizeTests
{
    private static readonly Gen<string> Cell = Gen.Frequency(
        (6, Pick.From("R1", "R2", "2024-01-31", "97", "icu", "")),
        (3, Pick.From("\"x\ny\"", "\"x\r\n\r\ny\"", "\"a\"\"b\"", "\"@\"", "\"\"", "\"97\"", "\"R3\"")),
        (2, Pick.From("5\" tube", "\"ab\"c", "\"ab\"c\"d\"", " \"x\"", "\"x\" ", "a\"\"", "é", "\u00A0", "  ", "unknown")));

    private static readonly Gen<string> Row = Gen.Frequency(
        (7, Cell.Array[4].Select(cells => string.Join('@', cells))),
        (1, Cell.Array[1, 6].Select(cells => string.Join('@', cells))),
        (1, Pick.From("", "@@@", " ", "@")));

    // @ stands for the separator.
    private static readonly Gen<(string Text, char Separator)> Dirty = Gen.Select(
        Pick.From(',', ';', '\t'), Gen.Bool, Gen.Select(Row, Pick.From("\n", "\n", "\r\n", "\r")).Array[0, 14], Gen.Bool, Gen.Int[0, 30],
        (separator, bom, rows, lastBreak, odd) =>
        {
            var lines = rows.Select(row => row.Item1 + row.Item2).ToList();
            if (!lastBreak && lines.Count > 0) lines[^1] = lines[^1].TrimEnd('\r', '\n');
            var heading = odd % 3 == 0
                ? "\"record_id\"@\"event_date\"@spo2_min@\"location_type\"\r\n"
                : "record_id@event_date@spo2_min@location_type\n";
            var text = heading + string.Concat(lines) + (odd == 0 ? "R1@\"never" : "");
            if (odd % 5 == 4) heading = "\r\n\n" + heading;
            return ((bom ? "\uFEFF" : "") + text.Replace('@', separator), separator);
        });

    [Fact]
    public void Any_block_size_gives_the_same_rows_findings_lines_and_index() =>
        Gen.Select(Dirty, Gen.Frequency((4, Gen.Int[1, 64]), (1, Gen.Const(300)))).Sample(
            (dirty, size) => Assert.Equal(Snapshot(dirty.Text, 1 << 20), Snapshot(dirty.Text, size)), iter: 60);

    [Fact]
    public void Rows_lines_and_cells_are_those_of_a_reader_of_single_characters() => Dirty.Sample(dirty =>
    {
        using var place = new Workplace();
        var (records, unclosed) = NaiveCsv.Read(dirty.Text.TrimStart('\uFEFF'), dirty.Separator);
        if (unclosed > 0)
        {
            Assert.Equal(unclosed, Assert.Throws<Failure>(() => place.Read(dirty.Text, blockSize: 50)).Line);
            return;
        }

        var source = place.Read(dirty.Text, blockSize: 50);
        var rows = records.SkipWhile(row => row.IsBlank).Skip(1).Where(row => !row.IsBlank).ToList();
        Assert.Equal((rows.Count, records.SkipWhile(row => row.IsBlank).Count() - 1 - rows.Count),
            (source.Manifest.Rows, source.Manifest.BlankRows));
        Assert.Equal(rows.Select(row => row.Line),
            Stored.Index(source).Select(row => int.Parse(row.Split('|')[2], CultureInfo.InvariantCulture)));
        Assert.Equal(
            rows.Where(row => row.Cells.Count == 4).Select(row => row.Line),
            Stored.Rows(source.Stored.Records).Select(row => int.Parse(row["line"]!, CultureInfo.InvariantCulture)));
        var all = Enumerable.Range(0, rows.Count).ToDictionary(row => (0, row), _ => "all");
        var kept = Quarantine.Rows(source, 0, LedgerKeeper.Keep([source], all, DuplicatePolicy.Last, strict: false));
        Assert.Equal(rows.Select(row => string.Join('|', row.Cells)), kept.Select(row => string.Join('|', row.Cells)));
    }, iter: 60);

    [Fact]
    public void A_cell_of_many_megabytes_is_one_cell()
    {
        using var place = new Workplace();
        var source = place.Read($"record_id,event_date,spo2_min,location_type\nR1,2024-01-31,97,\"{new string('x', 10_000_000)}\n\"\n"
            + $"R2,2024-01-31,98,icu\n");
        Assert.Equal(["not_allowed 2:4 location_type"], Stored.Notes(source));
        Assert.Equal(["2", "4"], Stored.Rows(source.Stored.Records).Select(row => row["line"]));
    }

    [Fact]
    public void Ten_thousand_columns_are_read()
    {
        using var place = new Workplace();
        var more = string.Concat(Enumerable.Range(0, 10_000).Select(i => $",c{i}"));
        var source = place.Read($"record_id,event_date{more}\nR1,2024-01-31{more}\n", Maps.Of("record_id", "event_date"));
        Assert.Equal("R1", Assert.Single(Stored.Rows(source.Stored.Records))["record_id"]);
    }

    private static string Snapshot(string text, int blockSize)
    {
        using var place = new Workplace();
        IngestedSource source;
        try
        {
            source = place.Read(Encoding.UTF8.GetBytes(text), blockSize: blockSize);
        }
        catch (Failure failure)
        {
            return $"{failure.Code}: {failure.Message}";
        }

        var rows = Stored.Rows(source.Stored.Records)
            .Select(row => string.Join('|', row.Select(cell => $"{cell.Key}={cell.Value ?? "null"}")));
        string[] reasons = source.Stored.Reasons.IsEmpty
            ? []
            : [.. Stored.Rows(source.Stored.Reasons).Select(row => string.Join('|', row.Values)).Order(StringComparer.Ordinal)];
        return string.Join('\n', [$"{source.Manifest.Rows} {source.Manifest.BlankRows} {source.Manifest.Sha256}", .. rows, .. reasons,
            .. Stored.Notes(source), .. Stored.Index(source)]);
    }
}
