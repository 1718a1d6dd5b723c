using System.IO.Compression;
using System.Text;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Form;

namespace Outcomes.Fuzz;

/// <summary>The seeds of every target.</summary>
internal static class Seeds
{
    private const string Cut = "%%%\n";

    public static byte[][] CsvWithMapping() =>
        [Bytes(SeedTexts.Mapping + Cut + SeedTexts.Rows), Bytes(SeedTexts.Wide + Cut + SeedTexts.WideRows)];

    /// <summary>The mapping before the line of percent signs, and the export after it.</summary>
    public static (byte[] Mapping, byte[] Csv) Split(byte[] bytes)
    {
        var at = bytes.AsSpan().IndexOf(Bytes(Cut));
        return at < 0 ? (Bytes(SeedTexts.Mapping), bytes) : (bytes[..at], bytes[(at + Cut.Length)..]);
    }

    public static byte[][] Json() => [Bytes(SeedTexts.Json), Bytes(SeedTexts.JsonLines)];

    public static byte[][] Counts() => [Bytes(SeedTexts.Counts)];

    public static byte[][] Form()
    {
        var plan = FormPlan.For(FieldDictionary.Shipped);
        string[] columns = ["record_id", "event_date", .. plan.Names().Where(name => name is not ("record_id" or "event_date"))];
        string Row(string key, string date, string rest) =>
            string.Join(',', columns.Select((_, i) => i == 0 ? key : i == 1 ? date : i % 3 == 0 ? rest : "")) + "\r\n";
        return
        [
            Bytes(string.Join(',', columns) + "\r\n" + Row("F-A", "2026-01-02", "yes") + Row("F-B", "2026-02-30", "not_recorded")
                + Row("F-C", "2026-01-05", "12")),
        ];
    }

    public static byte[][] Yaml() =>
    [
        Bytes(SeedTexts.Pipeline), Bytes(SeedTexts.Mapping), Bytes(SeedTexts.Wide), Bytes(SeedTexts.Flags),
        Bytes(SeedTexts.Measure("attempts_total >= 1")),
    ];

    public static byte[][] Conditions() =>
    [
        .. MeasureCatalogue.Shipped.SelectMany(measure => new[] { measure.Eligible, measure.Met }).Where(text => text.Length > 0).Distinct()
            .Select(Bytes),
    ];

    public static byte[][] Workbooks() =>
    [
        Zip(("xl/workbook.xml", SeedTexts.Workbook),
            ("xl/_rels/workbook.xml.rels", SeedTexts.Relations),
            ("xl/sharedStrings.xml", SeedTexts.SharedStrings),
            ("xl/worksheets/sheet1.xml", SeedTexts.Sheet),
            ("[Content_Types].xml", SeedTexts.Types)),
    ];

    public static byte[][] Parquet() =>
    [
        .. new[] { "COMPRESSION zstd", "COMPRESSION snappy", "COMPRESSION uncompressed", "COMPRESSION gzip" }.Select(options => Parquet(
            "SELECT 'r' || i AS id, DATE '2026-01-01' + i::INT AS day, TIME '10:00' AS \"time\", "
                + "CASE WHEN i % 3 > 0 THEN 'icu' END AS place, "
                + "(90 + i % 9)::SMALLINT AS lowest, i * 1.5 AS x, i::DOUBLE AS y, [i] AS nested, i % 2 = 0 AS ok FROM range(40) t(i)",
            options)),
    ];

    /// <summary>The parts of a zipped file under their names; null for what is none.</summary>
    public static List<(string Name, byte[] Bytes)>? Unzip(byte[] bytes)
    {
        try
        {
            using var zip = new ZipArchive(new MemoryStream(bytes), ZipArchiveMode.Read);
            return [.. zip.Entries.Select(entry =>
            {
                using var part = new MemoryStream();
                using var stream = entry.Open();
                stream.CopyTo(part);
                return (entry.FullName, part.ToArray());
            })];
        }
        catch (InvalidDataException)
        {
            return null;
        }
    }

    public static byte[] Zip(IEnumerable<(string Name, byte[] Bytes)> parts)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (name, part) in parts)
            {
                using var entry = zip.CreateEntry(name, CompressionLevel.Fastest).Open();
                entry.Write(part);
            }

        return bytes.ToArray();
    }

    private static byte[] Zip(params (string Name, string Text)[] parts) => Zip(parts.Select(part => (part.Name, Bytes(part.Text))));

    private static byte[] Parquet(string sql, string options)
    {
        var path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        try
        {
            using var connection = new DuckDBConnection("DataSource=:memory:");
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = $"COPY ({sql}) TO '{path}' (FORMAT parquet, {options})";
            command.ExecuteNonQuery();
            return File.ReadAllBytes(path);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text.ReplaceLineEndings("\n"));
}
