using System.Text.Json;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>
/// Files as hospitals and attackers make them, each with what must become of it in a JSON file beside it: tests/fixtures/ingestion.
/// </summary>
public class TortureTests
{
    private static readonly string Folder = Path.Combine(Fixtures.Folder, "ingestion");

    public static TheoryData<string> Files => [.. Directory.EnumerateFiles(Folder, "*.json")
        .Select(path => Path.GetFileNameWithoutExtension(path)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Files))]
    public void Every_file_gives_its_expected_rows_and_findings_or_its_refusal(string file)
    {
        using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(Folder, file + ".json")));
        var expected = json.RootElement;
        var fields = Words(expected, "fields");
        using var place = new Workplace();
        IngestedSource Read() => Ingest.Read(new SourceRequest("s", 0, Path.Combine(Folder, file), file, Mapping(expected, fields)),
            Maps.Dictionary, place.Store);
        if (expected.TryGetProperty("refused", out var refusal))
        {
            var failure = Assert.Throws<Failure>(Read);
            Assert.Equal((refusal.GetProperty("exit").GetInt32(), refusal.GetProperty("rule").GetString()),
                ((int)failure.Code, failure.Rule));
            if (failure.Code == ExitCode.Input) Assert.Equal(refusal.GetProperty("line").GetInt32(), failure.Line);
            return;
        }

        var source = Read();
        var rows = Stored.Rows(source.Stored.Records);
        Assert.Equal(Words(expected, "rows"), rows.Select(row => string.Join('|', fields.Select(field => row[field]))));
        Assert.Equal(expected.GetProperty("lines").EnumerateArray().Select(line => line.GetRawText()), rows.Select(row => row["line"]));
        Assert.Equal(Words(expected, "findings"), Stored.Notes(source));
        Assert.Equal((Number(expected, "blank"), Number(expected, "outside")), (source.Manifest.BlankRows, source.Manifest.OutsideRows));
        Assert.True(Stored.Keep(DuplicatePolicy.Last, strict: false, source).Total.RowsIn >= rows.Count);
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(Folder, file)))),
            source.Manifest.Sha256);
        Assert.False(Read().ReadAnew);
    }

    private static SourceMapping Mapping(JsonElement expected, string[] fields)
    {
        var table = expected.TryGetProperty("table", out var layout) ? layout : default;
        var columns = expected.TryGetProperty("columns", out var written) ? written : default;
        string? Pattern(string field) => columns.ValueKind == JsonValueKind.Object && columns.TryGetProperty(field, out var column)
            ? column.GetProperty("pattern").GetString()
            : null;
        return new SourceMapping("m.yaml", expected.GetRawText(), new TableLayout(null, false)
        {
            Windows1252 = Has(table, "windows1252"),
            DecimalComma = Has(table, "decimal_comma"),
            HeaderRow = table.ValueKind == JsonValueKind.Object ? Number(table, "header_row") : 0,
            Sheet = table.ValueKind == JsonValueKind.Object && table.TryGetProperty("sheet", out var sheet) ? sheet.GetString() : null,
        }, [.. fields.Select((field, i) => new ColumnMapping(field, field, i + 2) { Pattern = Pattern(field) })]);
    }

    private static bool Has(JsonElement table, string name) => table.ValueKind == JsonValueKind.Object && table.TryGetProperty(name, out _);

    private static int Number(JsonElement element, string name) => element.TryGetProperty(name, out var number) ? number.GetInt32() : 0;

    private static string[] Words(JsonElement element, string name) =>
        [.. element.GetProperty(name).EnumerateArray().Select(word => word.GetString()!)];
}
