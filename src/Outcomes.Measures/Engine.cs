using System.Collections.Immutable;
using System.Globalization;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Measures.Sql;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>
/// Stored records to breaches, counts and any other SQL, by an embedded analytic engine that is locked down: it can read the
/// store's files and nothing else, and its settings cannot be changed once it is open. Not safe for use by several threads.
/// </summary>
public sealed partial class Engine : IDisposable
{
    private readonly DuckDBConnection _connection;
    private readonly Definitions _definitions;
    private readonly Collection _collection;
    private readonly StoredBase _rows;
    private readonly RecordsSql _records;
    private readonly MeasureSql _measures;
    private readonly CountedRecords _counted;
    private readonly EngineOptions _options;
    private readonly long _storedRows;

    private Engine(DuckDBConnection connection, Definitions definitions, IReadOnlyList<StoredSource> sources, EngineOptions options)
    {
        _connection = connection;
        _options = options;
        _definitions = definitions;
        _collection = new Collection(_definitions.Scope, sources, options.Assume);
        _rows = new StoredBase(connection, _collection, options.AsOf);
        _records = new RecordsSql(_definitions, _collection, _rows, options.Rules);
        _measures = new MeasureSql(_definitions, _collection);
        _counted = new CountedRecords(connection, _records, _measures, _rows, _definitions.Scope);
        _storedRows = _collection.RecordSources.Sum(
            source => Convert.ToInt64(Scalar($"SELECT count(*) FROM {StoredBase.Parquet(source.Records)}"), CultureInfo.InvariantCulture));
    }

    /// <summary>
    /// Loads the engine's native library. A run that calls it on another thread while it reads its definitions does not wait for it later.
    /// </summary>
    public static void Prepare() => LockedConnection.Open([], threads: 1, memoryLimitMegabytes: 64).Dispose();

    /// <summary>True when the engine stopped because a file that it was opened on cannot be read any more.</summary>
    // The kind of an error that comes up while a query is prepared stands in its text alone. A file that is gone is looked for as a folder,
    // which the engine may not open.
    public static bool HasLostFile(Exception exception) => exception is DuckDBException
        && (exception.Message.StartsWith("IO Error", StringComparison.Ordinal)
            || exception.Message.StartsWith("Permission Error: Cannot access file", StringComparison.Ordinal));

    /// <summary>
    /// Opens the engine on the stored sources of a pipeline. A definition that is wrong is a <see cref="Failure"/> with file and
    /// line. Opened on no source at all, it checks definitions before anything is read.
    /// </summary>
    public static Engine Open(FieldDictionary dictionary, IReadOnlyList<StoredSource> sources, EngineOptions options) =>
        Open(sources, options, connection =>
        {
            var definitions = Definitions.Build(connection, dictionary, options.Derived);
            definitions.Add(options.Rules);
            return definitions;
        });

    /// <summary>
    /// An engine by the same definitions on the sources, once they are read: definitions are checked before that, and parsed once. The
    /// two are closed apart.
    /// </summary>
    /// <param name="sources">The stored sources.</param>
    /// <param name="writable">See <see cref="EngineOptions.Writable"/>.</param>
    /// <param name="inOrder">
    /// Whether rows that are not sorted keep the order they were written in, on one thread: for tables too large to sort in memory.
    /// </param>
    public Engine On(IReadOnlyList<StoredSource> sources, ImmutableArray<string> writable, bool inOrder = false) =>
        Open(sources, _options with { Writable = writable, Threads = inOrder ? 1 : _options.Threads }, _definitions.On);

    private static Engine Open(IReadOnlyList<StoredSource> sources, EngineOptions options, Func<DuckDBConnection, Definitions> definitions)
    {
        var files = sources.SelectMany(source => source.Records.Concat(source.Attempts).Concat(source.Summaries).Concat(source.Reasons))
            .Concat(options.Writable);
        var connection = LockedConnection.Open(files, options.Threads, options.MemoryLimitMegabytes);
        try
        {
            return new Engine(connection, definitions(connection), sources, options);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>
    /// The records of a month that count, in order of source and row: the flags that fire and the values asked as recorded, before any
    /// blanking; the answers of the measures after it.
    /// </summary>
    public IReadOnlyList<JudgedRecord> Review(
        IReadOnlyList<Flag> flags, IReadOnlyList<Measure> measures, IReadOnlyList<string> columns, Month month)
    {
        Check(flags);
        Check(measures, []);
        if (!HasRecords)
            return [];
        var judged = FlagQuery.Run(_connection, _records, _definitions, flags,
            flag => _rows.CannotJudge(Expressions.Names(_definitions.Condition(flag.When))),
            [.. columns.Where(name => _definitions.Scope.Find(name) is not null)], month);
        // A rule may have blanked the date, so that no measure knows the month of a record that its flags still see.
        var answers = FlagQuery.Answers(_connection, _records, _measures, _rows, measures, month);
        return [.. judged.Select(record => record with
        { Answers = answers.TryGetValue((record.Source, record.Row), out var known) ? known : [.. measures.Select(_ => Answer.Missing)] })];
    }

    /// <summary>
    /// Records of the months before one by month and the highest flag that fires on them, as recorded; flags about data do not count.
    /// </summary>
    public IReadOnlyList<HighestCount> HighestBefore(IReadOnlyList<Flag> flags, Month month) =>
        HasRecords ? Highest(flags).Before(month) : [];

    /// <summary>The records of some months on which a flag fires, with the highest of them; flags about data do not count.</summary>
    public IReadOnlyList<HighestRecord> HighestIn(IReadOnlyList<Flag> flags, IReadOnlyCollection<Month> months) =>
        HasRecords && months.Count > 0 ? Highest(flags).In(months) : [];

    /// <summary>Records with each event of harm that flags name, month by month, as recorded; in the order of the flags.</summary>
    public IReadOnlyList<HarmCount> Harm(IReadOnlyList<Flag> flags)
    {
        Check(flags);
        return HasRecords
            ? HarmQuery.Run(_connection, _records, _definitions, flags,
                flag => _rows.CannotJudge(Expressions.Names(_definitions.Condition(flag.When))))
            : [];
    }

    private HighestQuery Highest(IReadOnlyList<Flag> flags)
    {
        Check(flags);
        return new(_connection, _records, _definitions, flags,
            flag => _rows.CannotJudge(Expressions.Names(_definitions.Condition(flag.When))));
    }

    /// <summary>
    /// The attempt rows of records that count, by record id and in order of their numbers: fields by name, missing ones absent.
    /// </summary>
    public ILookup<string, ImmutableDictionary<string, string>> Attempts(IEnumerable<JudgedRecord> records, IReadOnlyList<string> fields) =>
        FlagQuery.Attempts(_connection, _rows, [.. fields.SelectMany(name => Column.Of(_definitions.Scope.Dictionary.Find(
            FieldDictionary.Attempt, name)!))], [.. records.Select(record => (record.Source, record.Row, record.RecordId))]);

    /// <summary>The fields behind a measure's conditions, those of attempts as <c>attempts.field</c>, by name.</summary>
    public ImmutableArray<string> FieldsBehind(Measure measure)
    {
        _definitions.Add([measure]);
        var asked = measure.Kind == MeasureKind.Proportion ? _definitions.Condition(measure.Met) : _definitions.Value(measure.Value);
        return [.. _collection.Behind(Expressions.Names(_definitions.Condition(measure.Eligible)).Concat(Expressions.Names(asked)))
            .SelectMany(column => column.Stored is { } stored
                ? [stored.Field.Name]
                : column.Rollup?.Columns.Select(attempt => $"attempts.{attempt.Field.Name}") ?? [])
            .Distinct().Order(StringComparer.Ordinal)];
    }

    /// <summary>
    /// Every breach of a rule among all stored rows, whatever is set aside: in order of source, row and rule. Attempts not set
    /// aside are those of the newest file that holds any of the record.
    /// </summary>
    public IReadOnlyList<RuleBreach> Judge() => HasRecords ? RuleQuery.Run(_connection, _records, _definitions, _options.Rules) : [];

    /// <summary>Takes rows out of what is counted; adds to what was set aside before.</summary>
    public void SetAside(IEnumerable<SetAside> rows)
    {
        var (records, attempts) = SetAsideTables.Add(_connection, rows);
        _rows.SetAside = (_rows.SetAside.Records || records, _rows.SetAside.Attempts || attempts);
        _records.Kept = null;
    }

    /// <summary>
    /// Works out the columns of the records that count once, for all that is asked from now on: for a report's many questions of a
    /// department's records. Does nothing where the records are too many for that to pay.
    /// </summary>
    /// <param name="strata">What records will be counted by.</param>
    /// <param name="most">Stored rows beyond which it does not pay.</param>
    public void Keep(IEnumerable<string> strata, long most = KeptRecords.MostRows)
    {
        if (!HasRecords || _storedRows > most)
            return;
        var named = _definitions.Names.Union(strata).Union(["record_id", "event_date", "emergency", Scope.CountedAs])
            .Union(SummaryQueries.Plans);
        _records.Kept = KeptRecords.Make(_connection, _records, _rows.Reasons,
            [.. _definitions.Scope.Columns.Where(column => column.Stored is not null || named.Contains(column.Name))
                .Select(column => column.Name).Where(IsGiven)]);

        // Only what some source gives: what none does is asked by nobody but flags, and they see the records as recorded.
        bool IsGiven(string name) => _collection.RecordSources.Any(source => _collection.Lacking(source, [name]).IsEmpty);
    }

    /// <summary>Counts proportions by month, and by month and level of each stratum. Quantities are left to <see cref="Values"/>.</summary>
    public CountResult Count(IReadOnlyList<Measure> measures, IReadOnlyList<string> strata)
    {
        Check(measures, strata);
        var (collected, others) = Collected(strata);
        return CountQuery.Run(_counted, measures, collected, _storedRows) with
        {
            StrataNotCollected = others
        };
    }

    /// <summary>Quantities by whole-unit value, month and level; half units round to the even number, as the engine does.</summary>
    public ValueResult Values(IReadOnlyList<Measure> measures, IReadOnlyList<string> strata)
    {
        Check(measures, strata);
        var (collected, others) = Collected(strata);
        return ValueQuery.Run(_counted, measures, collected) with
        {
            StrataNotCollected = others
        };
    }

    /// <summary>
    /// The judged records of a proportion one by one, with the fields asked: what a model of single records is fitted to.
    /// </summary>
    public Design Design(Measure measure, IReadOnlyList<string> fields) => Designs([measure], fields)[0];

    /// <summary>The same for several proportions, in their order.</summary>
    public ImmutableArray<Design> Designs(IReadOnlyList<Measure> measures, IReadOnlyList<string> fields)
    {
        Check(measures, []);
        var (collected, others) = Collected(fields);
        return DesignQuery.Run(_counted, measures, collected, others);
    }

    /// <summary>
    /// True where conditions could use the name: a derived column may be gone where a local field took the place of what it needs.
    /// </summary>
    public bool Knows(string name) => _definitions.Scope.Find(name) is not null;

    /// <summary>
    /// A researcher's read-only SQL: one SELECT over <c>records</c> (what measures see), <c>records_as_recorded</c> (before any
    /// blanking) and <c>attempts</c>.
    /// </summary>
    /// <param name="sql">The query.</param>
    /// <param name="patience">How long it may take; a minute unless told otherwise.</param>
    /// <exception cref="Failure">It is no SELECT, fails, takes longer, or gives what cannot be shown (exit 2).</exception>
    public QueryResult Query(string sql, TimeSpan? patience = null) =>
        UserQuery.Run(_connection, _records, _rows, _definitions.Scope, sql, patience ?? TimeSpan.FromMinutes(1));

    /// <summary>
    /// Writes the records that count, as measures see them and with their derived columns, and their attempts, each as one Parquet
    /// file in the order of its key.
    /// </summary>
    /// <param name="records">Where to write the records; one of <see cref="EngineOptions.Writable"/>.</param>
    /// <param name="attempts">Where to write the attempts; likewise.</param>
    /// <returns>The columns of both files.</returns>
    public ExportedColumns Export(string records, string attempts) =>
        UserQuery.Export(_connection, _records, _rows, _definitions.Scope, records, attempts);

    public void Dispose() => _connection.Dispose();

    /// <summary>True where <see cref="Keep"/> has worked out the records that count now.</summary>
    public bool IsKept => _records.Kept is not null;

    private bool HasRecords => !_collection.RecordSources.IsEmpty;

    private (ImmutableArray<string> Collected, ImmutableArray<string> Others) Collected(IReadOnlyList<string> strata)
    {
        var others = strata.Where(stratum => _collection.RecordSources.All(source => _collection.Lacking(source, [stratum]).Length > 0))
            .ToImmutableArray();
        return ([.. strata.Except(others)], others);
    }

    private object? Scalar(string sql)
    {
        using var command = _connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }
}
