using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using DuckDB.NET.Data;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>A folder of a test's own, with a store in it.</summary>
internal sealed class Workplace : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("outcomes-test-").FullName;
    private int _files;

    public string Store => Path.Combine(_folder, "store");

    /// <summary>Writes a source file.</summary>
    public string File(byte[] bytes)
    {
        var path = Path.Combine(_folder, $"source{_files++}.csv");
        System.IO.File.WriteAllBytes(path, bytes);
        return path;
    }

    public IngestedSource Read(string text, SourceMapping? mapping = null, int order = 0, int blockSize = 1 << 20) =>
        Read(Encoding.UTF8.GetBytes(text), mapping, order, blockSize);

    public IngestedSource Read(byte[] bytes, SourceMapping? mapping = null, int order = 0, int blockSize = 1 << 20) =>
        Ingest.Read(new SourceRequest($"s{order}", order, File(bytes), $"s{order}.csv", mapping ?? Maps.Small),
            Maps.Dictionary, Store, blockSize);

    /// <summary>The same with the dictionary that ships.</summary>
    public IngestedSource ReadShipped(string text, SourceMapping mapping, int order, int blockSize = 1 << 20) =>
        Ingest.Read(new SourceRequest($"s{order}", order, File(Encoding.UTF8.GetBytes(text)), $"s{order}.csv", mapping),
            FieldDictionary.Shipped, Store, blockSize);

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}

/// <summary>A small dictionary and mappings over it.</summary>
internal static class Maps
{
    private static readonly ImmutableArray<MissingToken> Words =
        [new("", MissingReason.Blank), new("unknown", MissingReason.Unknown), new("not_applicable", MissingReason.NotApplicable)];

    public static FieldDictionary Dictionary { get; } = new(
    [
        new Field("record_id", "procedure", FieldType.Text, "Key", "") { Required = true },
        new Field("event_date", "procedure", FieldType.Date, "Date", "")
        {
            Required = true,
            Hard = new Interval(new DateOnly(2000, 1, 1).DayNumber, null)
        },
        new Field("spo2_min", "procedure", FieldType.Integer, "Lowest", "")
        {
            Unit = "%",
            Hard = new Interval(20, 100),
            Plausible = new Interval(50, 100),
            Missing = Words
        },
        new Field("location_type", "procedure", FieldType.Code, "Place", "") { Allowed = ["icu", "ed", "ward"], Missing = Words },
        new Field("checked", "procedure", FieldType.YesNo, "Checked", "") { Missing = Words },
        new Field("preox_min", "procedure", FieldType.Number, "Preoxygenation", "")
        {
            Unit = "min",
            Hard = new Interval(0, 120),
            Missing = Words
        },
        new Field("complication", "procedure", FieldType.Set, "Complications", "")
        {
            Allowed = ["none", "aspiration", "dental"],
            Missing = Words
        },
        new Field("event_time", "procedure", FieldType.Time, "Time", "") { Hard = new Interval(6 * 60, null), Missing = Words },
        new Field("site", "procedure", FieldType.Text, "Site", "") { Missing = Words },
        new Field("urgency", "procedure", FieldType.Code, "Urgency", "")
        {
            Allowed = ["emergency", "planned"],
            Required = true,
            Missing = Words
        },
        new Field("narrative", "procedure", FieldType.Text, "Free text", "") { Identifying = Identifying.DirectRisk },
        new Field("record_id", "attempt", FieldType.Text, "Key", "") { Required = true },
        new Field("attempt_no", "attempt", FieldType.Integer, "Number", "") { Required = true, Hard = new Interval(1, 40) },
        new Field("seconds", "attempt", FieldType.Integer, "Duration", "") { Unit = "s", Hard = new Interval(1, 3600), Missing = Words },
        new Field("remark", "attempt", FieldType.Text, "Free text", "") { Identifying = Identifying.DirectRisk },
        new Field("outcome", "attempt", FieldType.Code, "Outcome", "") { Allowed = ["success", "no_view"], Missing = Words },
    ]);

    /// <summary>Key, date, saturation and place, under their own names.</summary>
    public static SourceMapping Small { get; } = Of("record_id", "event_date", "spo2_min", "location_type");

    public static SourceMapping Attempts { get; } =
        Of("record_id", "attempt_no", "outcome") with { Text = "attempts", Table = new TableLayout(null, RowsAreAttempts: true) };

    /// <summary>Fields under their own names.</summary>
    public static SourceMapping Of(params string[] fields) =>
        new("m.yaml", string.Join(",", fields), new TableLayout(null, false),
            [.. fields.Select((field, i) => new ColumnMapping(field, field, i + 2))]);
}

internal static class Stored
{
    private static readonly DuckDBConnection Engine = Opened();

    /// <summary>Every row of the index, a record a line: key, offset, line, marks, attempt.</summary>
    public static List<string> Index(IngestedSource source) =>
        [.. RowIndex.Read(source.IndexPath).SelectMany(block => Enumerable.Range(0, block.Count)
            .Select(i => $"{Encoding.UTF8.GetString(block.Key(i))}|{block.Offset[i]}|{block.Line[i]}|{block.Marks[i]}|{block.Attempt[i]}")
            .ToArray())];

    /// <summary>The findings as texts: rule, line, column (1-based, 0 for the row), field.</summary>
    public static string[] Notes(IngestedSource source) =>
        [.. Findings(source)
            .Select(finding => $"{CellRules.Id(finding.Rule)} {finding.Line}:{finding.FileColumn + 1} {finding.Field}".TrimEnd())];

    /// <summary>The fates of a source's rows, a letter a row.</summary>
    public static string Fates(Ledger ledger, int source) =>
        string.Concat(Enumerable.Range(0, (int)ledger.Files[source].RowsIn).Select(row => ledger.Of(source, row).ToString()[0]));

    public static Ledger Keep(DuplicatePolicy policy, bool strict, params IngestedSource[] sources) =>
        LedgerKeeper.Keep(sources, new Dictionary<(int, int), string>(), policy, strict);

    public static CellFinding[] Findings(IngestedSource source) => FindingLog.Read(source.FindingsPath);

    /// <summary>
    /// The rows of a stored table in order, each as its cells' texts, a missing cell as null: read by an engine that did not write them.
    /// </summary>
    public static List<Dictionary<string, string?>> Rows(IEnumerable<string> files)
    {
        lock (Engine)
        {
            return Query(files);
        }
    }

    /// <summary>Gives a Parquet file with the rows of a query to <paramref name="use"/>.</summary>
    public static T Parquet<T>(string sql, Func<string, T> use)
    {
        var path = Path.Combine(Path.GetTempPath(), $"outcomes-test-{Guid.NewGuid():N}.parquet");
        try
        {
            lock (Engine)
            {
                using var command = Engine.CreateCommand();
                command.CommandText = $"COPY ({sql}) TO '{path}' (FORMAT parquet)";
                command.ExecuteNonQuery();
            }

            return use(path);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static List<Dictionary<string, string?>> Query(IEnumerable<string> files)
    {
        using var command = Engine.CreateCommand();
        command.CommandText = $"SELECT * FROM read_parquet([{string.Join(", ", files.Select(file => $"'{file}'"))}]) ORDER BY \"row\"";
        using var reader = command.ExecuteReader();
        var rows = new List<Dictionary<string, string?>>();
        while (reader.Read())
            rows.Add(Enumerable.Range(0, reader.FieldCount)
                .ToDictionary(reader.GetName, i => reader.IsDBNull(i) ? null : Text(reader.GetValue(i))));
        return rows;
    }

    private static DuckDBConnection Opened()
    {
        var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        return connection;
    }

    private static string Text(object value) => value switch
    {
        DateOnly date => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        bool yes => yes ? "yes" : "no",
        _ => Convert.ToString(value, CultureInfo.InvariantCulture)!,
    };
}
