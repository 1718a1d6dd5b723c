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
        Zip(("xl/workbook.xml", """<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><workbookPr date1904="0"/><sheets><sheet name="Data" sheetId="1" r:id="rId1"/></sheets></workbook>"""),
            ("xl/_rels/workbook.xml.rels", """<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>"""),
            ("xl/sharedStrings.xml", """<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="5" uniqueCount="5"><si><t>id</t></si><si><t>day</t></si><si><t>time</t></si><si><t>place</t></si><si><t>lowest</t></si></sst>"""),
            ("xl/worksheets/sheet1.xml", """<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><dimension ref="A1:E3"/><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c><c r="D1" t="s"><v>3</v></c><c r="E1" t="s"><v>4</v></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>r1</t></is></c><c r="B2"><v>46024</v></c><c r="C2"><v>0.42</v></c><c r="D2" t="str"><f>A1</f><v>icu</v></c><c r="E2" t="e"><v>#N/A</v></c></row><row r="3"><c r="A3" t="inlineStr"><is><t>r2</t></is></c><c r="E3" t="b"><v>1</v></c></row></sheetData><mergeCells count="1"><mergeCell ref="D1:E1"/></mergeCells></worksheet>"""),
            ("[Content_Types].xml", """<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>""")),
    ];

    public static byte[][] Parquet() =>
    [
        .. new[] { "COMPRESSION zstd", "COMPRESSION snappy", "COMPRESSION uncompressed", "COMPRESSION gzip" }.Select(options => Parquet(
            "SELECT 'r' || i AS id, DATE '2026-01-01' + i::INT AS day, TIME '10:00' AS \"time\", CASE WHEN i % 3 > 0 THEN 'icu' END AS place, "
                + "(90 + i % 9)::SMALLINT AS lowest, i * 1.5 AS x, i::DOUBLE AS y, [i] AS nested, i % 2 = 0 AS ok FROM range(40) t(i)", options)),
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
