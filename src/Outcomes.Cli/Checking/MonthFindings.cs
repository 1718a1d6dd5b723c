using Outcomes.Analysis;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Cli.Checking;

/// <summary>Findings that no single row shows: records that look like one procedure entered twice, and what whole months show.</summary>
public static class MonthFindings
{
    /// <summary>Findings up to the report month.</summary>
    public static IEnumerable<Finding> List(
        Engine engine, IReadOnlyList<Field> fields, IReadOnlyList<IngestedSource> sources, Month month) =>
            PossibleDuplicates(engine, sources).Concat(SiteMonths(engine, fields, sources, month));

    // Two records of one unit that agree in all of these are most likely one procedure.
    private static readonly string[] Twice = ["event_date", "age_years", "sex", "attempts_total", "t_first_blade_s"];

    /// <summary>
    /// Counted records that look like one procedure entered twice, each a warning at its line; none where a field of the comparison
    /// is not collected.
    /// </summary>
    private static IEnumerable<Finding> PossibleDuplicates(Engine engine, IReadOnlyList<IngestedSource> sources)
    {
        string[] compared = [.. Twice, .. new[] { Capture.SiteField, "unit_code", "location_type" }.Where(engine.Collects)];
        var files = sources.ToDictionary(source => source.Request.Order, source => source.Request.File);
        return engine.Alike(compared).Select(alike => new Finding("possible_duplicate", Severity.Warn, files[alike.Source], alike.Line,
            Keys.RecordId, alike.RecordId, "Another record has the same place, date, age, sex, number of attempts and time of the first "
                + "laryngoscopy. If it is the same procedure, remove one of the two in the export; both are counted."));
    }

    /// <summary>Findings about whole months, up to the report month: warnings without a line.</summary>
    private static IEnumerable<Finding> SiteMonths(
        Engine engine, IEnumerable<Field> fields, IReadOnlyList<IngestedSource> sources, Month month)
    {
        var saturations = Levels("spo2_min");
        return SiteMonthRules.DigitPreference("spo2_min", saturations)
            .Concat(SiteMonthRules.AlwaysHundred("spo2_min", saturations))
            .Concat(SiteMonthRules.NoComplication("complication", Levels("complication_none")))
            .Concat(fields.Where(field => field.Type == FieldType.Code)
                .SelectMany(field => SiteMonthRules.CodeShift(field.Name, Levels(field.Name))))
            .Select(seen => new Finding(seen.Rule, Severity.Warn, File(seen.Column), 0, Heading(seen.Column), "",
                SiteMonthWording.Explain(seen)));

        LevelCount[] Levels(string column) =>
            [.. engine.Levels(column, engine.Collects(Capture.SiteField) ? Capture.SiteField : null).Where(row => row.Month <= month)];

        IngestedSource[] Collecting(string field) =>
            [.. sources.Where(source => source.Stored.ProcedureFields.Contains(field) && source.Request.Mends is null)];

        string File(string field) => string.Join("; ", Collecting(field).Select(source => source.Request.File));

        string Heading(string field) => string.Join("; ", Collecting(field)
            .Select(source => source.Request.Mapping.Columns.FirstOrDefault(column => column.Field == field)?.Column is { } heading
                ? ShownName.Of(heading, field)
                : field).Distinct());
    }
}
