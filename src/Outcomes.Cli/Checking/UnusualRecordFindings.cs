using Outcomes.CaseMix.UnusualRecords;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Cli.Checking;

/// <summary>Records whose values do not fit one another, as warnings; what was recorded stays.</summary>
public static class UnusualRecordFindings
{
    private const string Rule = "unusual_record";

    private const string Together =
        "These two values do not fit each other and the rest of this record, although each is in its range. Check both against the notes. "
            + "The values were kept.";

    private const string ByItself =
        "The first value is far from what this department usually records, although it is in its range; "
            + "the second is the next least usual in this record. Check both against the notes. The values were kept.";

    /// <summary>
    /// The unusual records among those that count, in the order of sources and lines; none where there are too few records to
    /// say what is usual.
    /// </summary>
    /// <remarks>Nothing else may name Microsoft.ML on the way to a run: a pipeline that leaves this off never loads it.</remarks>
    public static Finding[] List(Engine engine, IReadOnlyList<IngestedSource> sources)
    {
        var options = new UnusualRecordOptions();
        var records = engine.RecordsByMonth().Sum(month => month.Records);
        if (records < options.LeastRecords || records > options.MostRecords)
            return [];
        RecordQuantities[] adults = [.. engine.Quantities([.. RecordFields.All.Select(field => field.Name)])
            .Where(record => RecordFields.IsAdult(record.Values))];
        RecordColumn[] columns = [.. RecordFields.All.Select((field, at) => new RecordColumn(field.Name,
            [.. adults.Select(record => record.Values[at])], field.Logarithm))];
        var bySource = sources.ToDictionary(source => source.Request.Order);
        return [.. UnusualRecordSearch.Find(columns, options).Select(found =>
        {
            var (record, source) = (adults[found.Record], bySource[adults[found.Record].Source]);
            return new Finding(Rule, Severity.Warn, source.Request.File, record.Line,
                $"{Heading(source, columns[found.Column].Name)}, {Heading(source, columns[found.Other].Name)}", record.RecordId,
                found.ByItself ? ByItself : Together);
        })];
    }

    private static string Heading(IngestedSource source, string field) =>
        source.Request.Mapping.Columns.FirstOrDefault(column => column.Field == field)?.Column is { } heading
            ? ShownName.Of(heading, field)
            : field;
}
