using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using CsvHelper;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>
/// Reads independent monthly counts: a CSV with the columns <c>month</c> (2026-03), <c>count</c>, <c>source</c> and, where there are
/// several, <c>site</c>.
/// </summary>
public static class CountsFile
{
    private const long Most = 1_000_000;
    private const int MaximumBytes = 16 * 1024 * 1024;
    private static readonly string[] Needed = ["month", "count", "source"];

    /// <summary>The columns that the file may have.</summary>
    public static readonly ImmutableArray<string> Columns = [.. Needed, "site"];


    /// <exception cref="Failure">Missing, unreadable, identifying, or a column lacks or is unknown (exit 4).</exception>
    public static IndependentCounts Read(string path, string file)
    {
        var bytes = ReadBytes(path, file);
        using var stream = new MemoryStream(bytes, writable: false);
        var header = SourceHeader.Read(stream, file, null);
        var places = Places(header.Headings, file);
        var counts = new List<MonthlyCount>();
        var findings = new List<Finding>();
        using var reader = CsvReader.Create(bytes.AsMemory(header.DataOffset), SourceHeader.Options(header.Separator));
        var before = bytes.AsSpan(0, header.DataOffset).Count((byte)'\n');
        while (reader.Read())
        {
            var cells = Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i).Trim()).ToArray();
            if (cells.All(cell => cell.Length == 0)) continue;
            Row(cells, (int)reader.LineNumber + before);
        }

        return new IndependentCounts(file, Convert.ToHexStringLower(SHA256.HashData(bytes)), places.ContainsKey("site"),
            [.. counts], [.. findings]);

        void Row(string[] cells, int line)
        {
            string Cell(string column) => places.TryGetValue(column, out var at) ? cells[at] : "";
            if (cells.Length != header.Headings.Length)
                Refuse("ragged_row", "", CellRules.Explain(CellRule.RaggedRow, null));
            else if (!ReportedTime.TryParse(Cell("month"), out Month month))
                Refuse("not_month", "month", "Not a month written as 2026-03; the row's count is not used.");
            else if (!long.TryParse(Cell("count"), NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number > Most)
                Refuse("not_count", "count", "Not a whole number of procedures, 0 or more; the row's count is not used.");
            else if (Cell("source").Length == 0)
                Refuse("missing", "source",
                    "Say what was counted, such as tubes issued: a count without its source cannot be judged; it is not used.");
            else if (places.ContainsKey("site") && Cell("site").Length == 0)
                Refuse("missing", "site", "The file has sites, and this row names none; its count is not used.");
            else if (counts.Exists(other => other.Month == month && other.Site == Cell("site")))
                Refuse("duplicate", "month", "An earlier row gives this month already; keep one of them.");
            else
                counts.Add(new MonthlyCount(month, Cell("site"), number, Cell("source"), line));

            void Refuse(string rule, string column, string why) =>
                findings.Add(new Finding(rule, Severity.Refuse, file, line, column, "", why));
        }
    }

    private static byte[] ReadBytes(string path, string file)
    {
        try
        {
            using var counts = RegularFile.Open(path, file);
            if (counts.Length > MaximumBytes)
                throw new Failure(ExitCode.Input, "capture: the file is over 16 MiB, more than monthly counts fill; check the path",
                    file, rule: "counts_limit");
            var bytes = new byte[counts.Length];
            counts.ReadExactly(bytes);
            return bytes;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new Failure(ExitCode.Input, "capture: the file is missing or cannot be read; check the path in the pipeline", file);
        }
    }

    private static Dictionary<string, int> Places(ImmutableArray<string> headings, string file)
    {
        var places = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < headings.Length; i++)
            if (!Columns.Contains(headings[i]) || !places.TryAdd(headings[i], i))
                throw Wrong($"column {i + 1} is none of {string.Join(", ", Columns)}, or stands twice; remove it");
        return Array.Find(Needed, column => !places.ContainsKey(column)) is { } lacking
            ? throw Wrong($"the column `{lacking}` is not there; the file has month, count, source and, for several sites, site")
            : places;

        Failure Wrong(string message) => new(ExitCode.Input, "capture: " + message, file, 1, "capture_columns");
    }
}
