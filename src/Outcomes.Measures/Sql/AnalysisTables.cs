using System.Collections.Immutable;
using System.Globalization;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>
/// The tables of the analysis set, within the engine: tidy, with the columns that hold something, and with the reason beside each cell that
/// has no value.
/// </summary>
internal sealed class AnalysisTables(CountedRecords counted, Collection collection)
{
    public const string Procedure = "procedure", Attempt = "attempt", Trace = "trace_summary", Measures = "measures";

    private const string Wide = "analysis_wide", Answers = "analysis_answers";

    private readonly DuckDBConnection _connection = counted.Connection;
    private readonly Scope _scope = counted.Scope;

    private readonly HashSet<string> _traced = [.. collection.Sources.SelectMany(source => source.TraceFields)];

    /// <summary>Makes the tables; the views of a person's query must be there.</summary>
    public AnalysisColumns Make(IReadOnlyList<Measure> measures, ExportedColumns exported)
    {
        var reasons = new AnalysisReasons(counted, collection);
        var answered = MakeAnswers(measures);
        Execute($"CREATE OR REPLACE TEMP TABLE {Wide} AS SELECT r.*, a.* EXCLUDE (source, \"row\") FROM ({reasons.Records(_traced)}) r "
            + $"LEFT JOIN {Answers} a ON a.source = r.source AND a.\"row\" = r.\"row\" ORDER BY r.record_id");
        Execute($"DROP TABLE {Answers}");
        var columns = exported.Records.Where(IsTold).OrderBy(Place).SelectMany(column => With(column, reasons.HasReason(column, _traced)))
            .DistinctBy(column => column.Name).ToImmutableArray();
        columns = Filled(Wide, columns);
        ImmutableArray<AnalysisColumn> procedure = [.. columns.Where(column => !IsTraced(column))];
        ImmutableArray<AnalysisColumn> trace = [.. columns.Where(IsTraced)];
        var id = columns.First(column => column.Name == "record_id");
        Execute($"CREATE OR REPLACE TEMP TABLE {Procedure} AS SELECT {Select(procedure)} FROM {Wide}");
        if (!trace.IsEmpty)
            Execute($"CREATE OR REPLACE TEMP TABLE {Trace} AS SELECT record_id, {Select(trace)} FROM {Wide} WHERE "
                + string.Join(" OR ", trace.Select(column => $"{Quote.Name(column.Name)} IS NOT NULL")));
        var attempt = MakeAttempts(reasons, exported);
        // A view: a row a record and measure is many rows, which no memory need hold.
        Execute($"CREATE OR REPLACE TEMP VIEW {Measures} "
            + $"AS {(answered.Length == 0 ? None : string.Join(" UNION ALL ", answered.Select(Rows)))}");
        return new(procedure, attempt, trace.IsEmpty ? [] : [id, .. trace], [.. answered.Select(plan => plan.Measure.Id)]);
    }

    /// <summary>
    /// A table of the set in order. That of measures comes measure by measure, and by record within each: the rows that it is made from lie
    /// so, and an engine opened in order keeps it.
    /// </summary>
    public static string Ordered(string table) => table switch
    {
        Attempt => $"SELECT * FROM {Attempt} ORDER BY record_id, attempt_no",
        Measures => $"SELECT * FROM {Measures}",
        _ => $"SELECT * FROM {table} ORDER BY record_id",
    };

    // What is one value for all, what another table holds, and what a derived column of the same name says better, is left out.
    private static bool IsTold(ExportedColumn column) => column.Name != Scope.AsOf && !column.Name.Contains('@', StringComparison.Ordinal)
        && column.Stored?.Field.Table != FieldDictionary.Attempt;

    // The key and the date, then what was recorded, what attempts add up to, and what is worked out.
    private static int Place(ExportedColumn column) => column.Name is "record_id" ? 0 : column.Name is "event_date" ? 1
        : column.Derived is not null ? 4 : column.Stored is not null ? 2 : 3;

    private bool IsTraced(AnalysisColumn column) => column.Column is { Derived: null, Stored: { } stored }
        && _traced.Contains(stored.Field.Name);

    // A column and, behind it, that of its reasons.
    private static IEnumerable<AnalysisColumn> With(ExportedColumn column, bool hasReason) =>
        hasReason ? [new(column, IsReason: false), new(column, IsReason: true)] : [new(column, IsReason: false)];

    private ImmutableArray<AnalysisColumn> Filled(string table, ImmutableArray<AnalysisColumn> columns)
    {
        using var command = _connection.CreateCommand();
        command.CommandText = $"SELECT {string.Join(", ", columns.Select(column => $"count({Quote.Name(column.Name)})"))} FROM {table}";
        using var reader = command.ExecuteReader();
        reader.Read();
        AnalysisColumn[] filled =
            [.. columns.Where((_, i) => Convert.ToInt64(reader.GetValue(i), CultureInfo.InvariantCulture) > 0)];
        // Where no cell has a value, no reason is told either.
        var told = filled.Where(column => !column.IsReason).Select(column => (column with { IsReason = true }).Name).ToHashSet();
        return [.. filled.Where(column => !column.IsReason || told.Contains(column.Name))];
    }

    private string Select(IEnumerable<AnalysisColumn> columns) => string.Join(", ", columns.Select(column =>
        !column.IsReason && _scope.Find(column.Name) is not null
            ? $"{_scope.Measured(column.Name)} AS {Quote.Name(column.Name)}"
            : Quote.Name(column.Name)));

    private ImmutableArray<AnalysisColumn> MakeAttempts(AnalysisReasons reasons, ExportedColumns exported)
    {
        var all = $"{Wide}_attempts";
        Execute($"CREATE OR REPLACE TEMP TABLE {all} AS {reasons.Attempts()}");
        var columns = Filled(all, [.. exported.Attempts.SelectMany(column => With(column, AnalysisReasons.OfAttempt(column)))
            .DistinctBy(column => column.Name)]);
        if (columns.IsEmpty)
            return [];
        Execute($"CREATE OR REPLACE TEMP TABLE {Attempt} AS SELECT {string.Join(", ", columns.Select(column =>
            !column.IsReason && column.Column.Stored!.Field.MayBeUnrecordable
                ? $"nullif({Quote.Name(column.Name)}, {Field.TooLow}) AS {Quote.Name(column.Name)}"
                : Quote.Name(column.Name)))} FROM {all}");
        return columns;
    }

    // What each measure says of each record: 0 not eligible, 1 not met, 2 met, 3 missing; of a quantity 0 no, 1 unknown, 2 asked.
    private MeasureSql.Plan[] MakeAnswers(IReadOnlyList<Measure> measures)
    {
        MeasureSql.Plan[] plans = [.. measures.Select(counted.Measures.For).Where(plan => !plan.Variants.IsEmpty)];
        var notApplicable = counted.Rows.NotApplicable(plans.SelectMany(counted.Measures.Cells));
        var from = counted.Records.Build(plans.SelectMany(plan => plan.Names).Append("event_date").Distinct(),
            Stage.Counted, notApplicable);
        var cells = string.Concat(plans.Select((plan, i) => $", {counted.Measures.Collected(plan, Code(plan))} AS c{i}{Value(plan, i)}"));
        Execute($"CREATE OR REPLACE TEMP TABLE {Answers} AS SELECT source, \"row\"{cells} FROM ({from}) WHERE event_date IS NOT NULL");
        return plans;

        string Code(MeasureSql.Plan plan) => plan.Measure.Kind == MeasureKind.Proportion
            ? $"CAST(CASE {counted.Measures.Code(plan, notApplicable)} {MeasureSql.ToDigit} END AS UTINYINT)"
            : $"CAST({counted.Measures.Quantity(plan, notApplicable).Eligible} AS UTINYINT)";

        string Value(MeasureSql.Plan plan, int i) => plan.Measure.Kind == MeasureKind.Proportion ? ""
            : counted.Measures.Quantity(plan, notApplicable) is var asked
                ? $", {asked.Value} AS v{i}, CAST({asked.TooLow} AS UTINYINT) AS t{i}" : "";
    }

    private const string None = "SELECT '' AS record_id, '' AS measure, '' AS month, true AS eligible, true AS met, true AS missing, "
        + "0.0::DOUBLE AS value, '' AS why WHERE false";

    private string Rows(MeasureSql.Plan plan, int i)
    {
        var head = $"SELECT w.record_id, {Quote.Text(plan.Measure.Id)} AS measure, strftime(w.event_date, '%Y-%m') AS month, ";
        var (why, tail) = (new AnalysisWhy(collection, _traced).Of(plan), $" AS why FROM {Wide} w WHERE c{i} IS NOT NULL");
        if (plan.Measure.Kind == MeasureKind.Proportion)
            return head
                + $"CASE WHEN c{i} = 3 THEN NULL ELSE c{i} <> 0 END AS eligible, CASE WHEN c{i} IN (1, 2) THEN c{i} = 2 END AS met, "
                + $"c{i} = 3 AS missing, CAST(NULL AS DOUBLE) AS value, CASE WHEN c{i} = 3 THEN nullif({why}, '') END{tail}";
        var missing = $"(c{i} = 1 OR (c{i} = 2 AND v{i} IS NULL AND t{i} = 0))";
        return head + $"CASE WHEN {missing} THEN NULL ELSE c{i} = 2 END AS eligible, CAST(NULL AS BOOLEAN) AS met, {missing} AS missing, "
            + $"CASE WHEN c{i} = 2 AND t{i} = 0 THEN CAST(v{i} AS DOUBLE) / {plan.Measure.Scale} END AS value, "
            + $"CASE WHEN {missing} THEN nullif({why}, '') WHEN c{i} = 2 AND t{i} = 1 THEN '{AnalysisReason.Unrecordable}' END{tail}";
    }

    private void Execute(string sql)
    {
        using var command = _connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
