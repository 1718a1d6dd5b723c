using System.Collections.Immutable;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Reading;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Model;

namespace Outcomes.Cli.Run;

/// <summary>The state of the data beyond single cells: what to ask for, and what whole months say.</summary>
public static class DataQuality
{
    /// <summary>The core fields, and those that a figure of this pipeline rests on: what else is missing changes nothing that is printed.</summary>
    public static ImmutableArray<Field> Fields(Definitions.Pipeline pipeline, Catalogue catalogue, Engine engine)
    {
        var wanted = catalogue.Measures.SelectMany(measure => engine.FieldsBehind(measure)).Concat(pipeline.Strata.Select(word => word.Word)).ToHashSet(StringComparer.Ordinal);
        // What a trace shows is not filled in by anyone: the paragraph on traces says how many records have one.
        return [.. catalogue.Dictionary.Of(FieldDictionary.Procedure).Where(field => !FieldDictionary.IsFromTraces(field)).Where(field => field.Core || wanted.Contains(field.Name))
            .Where(field => engine.Collects(field.Name) || !IsGivenByAnother(field, engine))];
    }

    // An age band is not asked for where ages are collected: both give the same columns, and one is enough.
    private static bool IsGivenByAnother(Field field, Engine engine)
    {
        var giving = DerivedFile.Shipped.Where(column => column.Needs.Any(group => group.Contains(field.Name))).ToList();
        return giving.Count > 0 && giving.All(column => column.Needs.Any(group => !group.Contains(field.Name) && group.All(engine.Collects)));
    }

    /// <summary>What is missing, worst first.</summary>
    /// <param name="fields">The fields asked about.</param>
    /// <param name="months">Their completeness by month, from the first month to the report month.</param>
    /// <param name="yearFrom">First of the last 12 months.</param>
    /// <param name="sources">The sources, for headings.</param>
    /// <param name="findings">Findings, for cells that are no value.</param>
    /// <param name="needs">Headline measures' titles and the fields behind them.</param>
    public static ImmutableArray<DataQuestion> Questions(
        IEnumerable<Field> fields, IEnumerable<MonthCompleteness> months, Month yearFrom, IReadOnlyList<IngestedSource> sources,
        IEnumerable<Finding> findings, IReadOnlyList<(string Title, ImmutableArray<string> Fields)> needs)
    {
        var byField = months.ToLookup(row => row.Field);
        var invalid = findings.Where(finding => finding.Severity == Severity.Blank).GroupBy(finding => (finding.File, finding.Column)).ToDictionary(group => group.Key, group => group.LongCount());
        return DataQuestion.WorstFirst(fields.Select(field =>
        {
            var year = byField[field.Name].Where(row => row.Month >= yearFrom).ToArray();
            var columns = sources.Where(source => source.Stored.ProcedureFields.Contains(field.Name))
                .Select(source => (source.Request.File, Column: source.Request.Mapping.Columns.FirstOrDefault(column => column.Field == field.Name)?.Column ?? "(constant)")).ToArray();
            return new DataQuestion(
                field.Name, field.Title, year.Sum(row => row.Records - row.Known), year.Sum(row => row.Records),
                MissingSince.Of(byField[field.Name].Select(row => new MonthKnown(row.Month, row.Known, row.Records))),
                [.. columns.Select(column => columns.Length == 1 ? column.Column : $"{column.Column} ({column.File})").Distinct()],
                columns.Sum(column => invalid.GetValueOrDefault((column.File, column.Column))),
                [.. needs.Where(need => need.Fields.Contains(field.Name)).Select(need => need.Title)]);
        }));
    }

    /// <summary>Headline measures' titles and the fields behind them.</summary>
    public static IReadOnlyList<(string Title, ImmutableArray<string> Fields)> Needs(Definitions.Pipeline pipeline, Catalogue catalogue, Engine engine) =>
        [.. catalogue.Measures.Where(measure => pipeline.Headline.Any(word => word.Word == measure.Id)).Select(measure => (measure.Title, engine.FieldsBehind(measure)))];

    // Two records of one unit that agree in all of these are most likely one procedure.
    private static readonly string[] Twice = ["event_date", "age_years", "sex", "attempts_total", "t_first_blade_s"];

    /// <summary>Counted records that look like one procedure entered twice, each a warning at its line; none where a field of the comparison is not collected.</summary>
    public static IEnumerable<Finding> PossibleDuplicates(Engine engine, IReadOnlyList<IngestedSource> sources)
    {
        string[] compared = [.. Twice, .. new[] { Capture.SiteField, "unit_code", "location_type" }.Where(engine.Collects)];
        var files = sources.ToDictionary(source => source.Request.Order, source => source.Request.File);
        return engine.Alike(compared).Select(alike => new Finding("possible_duplicate", Severity.Warn, files[alike.Source], alike.Line, Keys.RecordId, alike.RecordId,
            "Another record has the same place, date, age, sex, number of attempts and time of the first laryngoscopy. If it is the same procedure, remove one of the two in the export; both are counted."));
    }

    /// <summary>Findings about whole months, up to the report month: warnings without a line.</summary>
    public static IEnumerable<Finding> SiteMonths(Engine engine, IEnumerable<Field> fields, IReadOnlyList<IngestedSource> sources, Month month)
    {
        var saturations = Levels("spo2_min");
        return SiteMonthRules.DigitPreference("spo2_min", saturations)
            .Concat(SiteMonthRules.AlwaysHundred("spo2_min", saturations))
            .Concat(SiteMonthRules.NoComplication("complication", Levels("complication_none")))
            .Concat(fields.Where(field => field.Type == FieldType.Code).SelectMany(field => SiteMonthRules.CodeShift(field.Name, Levels(field.Name))))
            .Select(seen => new Finding(seen.Rule, Severity.Warn, File(seen.Column), 0, Heading(seen.Column), "", seen.Explanation));

        LevelCount[] Levels(string column) => [.. engine.Levels(column, engine.Collects(Capture.SiteField) ? Capture.SiteField : null).Where(row => row.Month <= month)];

        IngestedSource[] Collecting(string field) => [.. sources.Where(source => source.Stored.ProcedureFields.Contains(field) && source.Request.Mends is null)];

        string File(string field) => string.Join("; ", Collecting(field).Select(source => source.Request.File));

        string Heading(string field) => string.Join("; ", Collecting(field)
            .Select(source => source.Request.Mapping.Columns.FirstOrDefault(column => column.Field == field)?.Column ?? field).Distinct());
    }
}
