using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Measures.Sql;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>What is counted of the records beside measures: months, levels, plans, who is counted, agreement, completeness.</summary>
public sealed partial class Engine
{
    /// <summary>How emergency records moved between plans in a period.</summary>
    public PlanLadder Ladder(Month from, Month to) =>
        PlanLadder.Of(from, to, HasRecords ? SummaryQueries.Paths(_connection, _records, from, to) : []);

    /// <summary>Records counted, month by month; months without any are left out.</summary>
    public IReadOnlyList<MonthRecords> RecordsByMonth() => HasRecords ? SummaryQueries.ByMonth(_connection, _records) : [];

    /// <summary>Records counted by month and value of a stored column, in the order of both; empty where no source collects it.</summary>
    /// <param name="column">The column.</param>
    /// <param name="site">A field by which they are counted apart too; null for all together.</param>
    public IReadOnlyList<LevelCount> Levels(string column, string? site = null) =>
        Collects(column) ? SummaryQueries.Levels(_connection, _records, column, site) : [];

    /// <summary>
    /// Records by month and why they are counted or not, by the derived column <c>counted_as</c>; empty where the pipeline has none. A
    /// record whose date a rule blanked is in none.
    /// </summary>
    public IReadOnlyList<LevelCount> CountedAs() =>
        HasRecords && Knows(Scope.CountedAs) ? SummaryQueries.Levels(_connection, _records, Scope.CountedAs, null) : [];

    /// <summary>
    /// Records of a period by which answer each of two places gives, as they were recorded, before any rule blanks a cell: a rule that
    /// blanks one answer because it differs from the other would leave perfect agreement. Only records that have both; empty where
    /// conditions could not use a name.
    /// </summary>
    public IReadOnlyList<AgreementCount> Agreement(AgreementPair pair, Month from, Month to)
    {
        ArgumentNullException.ThrowIfNull(pair);
        var conditions = pair.Answers.SelectMany(answer => (string[])[answer.First, answer.Second]).ToArray();
        return HasRecords && conditions.All(_definitions.Accepts)
            ? SummaryQueries.Agreement(_connection, _records, _definitions, pair, from, to)
            : [];
    }

    /// <summary>True where some source collects a field of the record.</summary>
    public bool Collects(string column) =>
        _definitions.Scope.Find(column)?.Stored is { } stored
            && _collection.RecordSources.Any(source => source.ProcedureFields.Contains(stored.Field.Name));

    /// <summary>
    /// Counted records that agree with another one in all of these fields, each of them known; empty where one is not collected.
    /// </summary>
    public IReadOnlyList<AlikeRecord> Alike(IReadOnlyList<string> fields) =>
        fields.All(Collects) ? SummaryQueries.Alike(_connection, _records, fields) : [];

    /// <summary>
    /// Counted records in order of source and row, with quantities as numbers: <see cref="double.NaN"/> where a value is missing, a rule
    /// blanked it, or no source collects it.
    /// </summary>
    /// <param name="fields">Number fields of the record.</param>
    public IReadOnlyList<RecordQuantities> Quantities(IReadOnlyList<string> fields) =>
        HasRecords ? SummaryQueries.Quantities(_connection, _records, _definitions.Scope, fields) : [];

    /// <summary>
    /// How complete the collected fields of the record are in a period, in dictionary order, among records of the sources
    /// that collect them.
    /// </summary>
    public IReadOnlyList<Completeness> Completeness(Month from, Month to, IEnumerable<string>? fields = null)
    {
        var asked = fields ?? _definitions.Scope.Dictionary.Of(FieldDictionary.Procedure).Select(field => field.Name);
        string[] names = [.. asked.Distinct()];
        return Completeness(CompletenessByMonth(names), names, from, to);
    }

    /// <summary>The same from what was counted month by month.</summary>
    public IReadOnlyList<Completeness> Completeness(
        IReadOnlyList<MonthCompleteness> months, IEnumerable<string> fields, Month from, Month to) =>
        SummaryQueries.Completeness(months, [.. fields.Distinct()], _collection, _definitions, (from, to));

    /// <summary>The same month by month, in the order of fields and months; months without a record asked are left out.</summary>
    public IReadOnlyList<MonthCompleteness> CompletenessByMonth(IEnumerable<string> fields) =>
        HasRecords ? SummaryQueries.CompletenessByMonth(_connection, _records, _collection, [.. fields.Distinct()], _definitions) : [];
}
