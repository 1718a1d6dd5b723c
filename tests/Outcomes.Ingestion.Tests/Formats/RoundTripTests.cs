using System.Globalization;
using CsCheck;
using Outcomes.Ingestion.Mapping;

namespace Outcomes.Tests.Ingestion;

/// <summary>What stands in the file stands in the store, as an engine reads it that did not write it.</summary>
public class RoundTripTests
{
    private static readonly string[] Fields =
    [
        "record_id", "event_date", "spo2_min", "location_type", "checked", "preox_min", "complication", "event_time", "site"
    ];

    private static readonly Gen<string> Text = Gen.Select(
        Gen.Char["abcXYZ059"], Pick.From("a", " ", ",", ";", "\"", "\n", "\r\n", "'", "é", "患", "😀", "=", "\t").Array[0, 30]
            .Select(string.Concat), Gen.Char["abcXYZ059"], (first, middle, last) => $"{first}{middle}{last}");

    private static readonly Gen<string?[]> Row = Gen.Select(
        Gen.Select(Gen.Int[0, 999_999], Gen.Int[new DateOnly(2000, 1, 1).DayNumber, new DateOnly(2100, 1, 1).DayNumber],
            Maybe(Gen.Int[50, 100]), Maybe(Pick.From("icu", "ed", "ward"))),
        Gen.Select(Maybe(Pick.From("yes", "no")), Maybe(Gen.Int[0, 120_000]), Gen.Int[0, 7], Maybe(Gen.Int[360, 1439]), Maybe(Text)),
        (left, right) => new[]
        {
            $"R{left.Item1}", DateOnly.FromDayNumber(left.Item2).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), left.Item3,
            left.Item4, right.Item1,
            right.Item2 is null
                ? null
                : (int.Parse(right.Item2, CultureInfo.InvariantCulture) / 1000m).ToString("0.###", CultureInfo.InvariantCulture),
            right.Item3 == 0
                ? null
                : string.Join(';', new[] { "none", "aspiration", "dental" }.Where((_, i) => (right.Item3 & (1 << i)) != 0)),
            right.Item4, right.Item5,
        });

    [Fact]
    public void Clean_values_of_every_type_come_back() => Gen.Select(Row.Array[1, 40], Pick.From(200, 1 << 20)).Sample((rows, blockSize) =>
    {
        using var place = new Workplace();
        var mapping = Maps.Of(Fields) with
        {
            Table = new TableLayout(',', false),
            Checked = [new CheckedColumn("site", "random letters, checked by the author, 2026-01-01", 0)]
        };
        var source = place.Read(string.Join(',', Fields) + "\n"
            + string.Concat(rows.Select(row => string.Join(',', row.Select(Cell)) + "\n")), mapping, blockSize: blockSize);
        Assert.Equal(["column_checked 0:9 site"], Stored.Notes(source));
        Assert.Empty(source.Stored.Reasons);
        Assert.Equal(rows.Select(row => string.Join('|', row)),
            Stored.Rows(source.Stored.Records).Select(stored => string.Join('|', Fields.Select(field => Back(stored, field)))));
    }, iter: 60);

    private static Gen<string?> Maybe(Gen<int> values) => Maybe(values.Select(value => value.ToString(CultureInfo.InvariantCulture)));

    private static Gen<string?> Maybe(Gen<string> values) => Gen.Select(values, Gen.Int[0, 3], (value, odds) => odds == 0 ? null : value);

    // Minutes of the day are stored; the file writes a time. Fields are in the order of Fields.
    private static string Cell(string? value, int field) => value is null ? ""
        : field == 7 ? TimeSpan.FromMinutes(int.Parse(value, CultureInfo.InvariantCulture))
            .ToString(@"hh\:mm", CultureInfo.InvariantCulture)
        : value.AsSpan().ContainsAny(",\"\r\n") ? $"\"{value.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : value;

    private static string? Back(Dictionary<string, string?> stored, string field)
    {
        if (field != "complication") return stored[field];
        if (stored["complication_none"] is null) return null;
        return string.Join(';', new[] { "none", "aspiration", "dental" }.Where(value => stored[$"complication_{value}"] == "yes"));
    }
}
