using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>casemix.csv</c>: a part of a model.</summary>
internal sealed record CaseMixRow(CaseMixFigures Model, string Part, long Records, long Events)
{
    public string? Field { get; init; }

    public string? Level { get; init; }

    public string? Reference { get; init; }

    public IntervalCells Cells { get; init; }
}

/// <summary><c>casemix.csv</c>: the models. Fitted numbers have six significant digits.</summary>
internal static class CaseMixTable
{
    private const string Calibration = "cross_validated";

    public static readonly CsvTable<CaseMixRow> Table = new CsvTable<CaseMixRow>(
        "tables/casemix.csv",
        "The case-mix models: odds ratios, discrimination and calibration",
        "One row is one odds ratio, one figure of discrimination or calibration, or one group of the calibration plot. "
        + "A model that could not be fitted is one row (part refused).")
        .Measure(row => row.Model.Measure.Id).Event(row => Event(row.Model))
        .Word("part", "What the row holds.", row => row.Part, "refused", "model", "odds_ratio", "auc", "auc_apparent",
            "calibration_intercept", "calibration_slope", "brier", "brier_of_mean", "group_expected", "group_observed")
        .Text("field", "Field of an odds ratio.", row => row.Field)
        .Text("level", "Level of that field; empty for a quantity, whose odds ratio is for one unit more.", row => row.Level)
        .Text("reference", "Level that it is compared with; empty for a quantity.", row => row.Reference)
        .Number("records", "Records of the baseline that the row rests on.", row => row.Records)
        .Number("events", "Events among them.", row => row.Events)
        .Interval("The odds ratio, area under the curve, intercept, slope, Brier score, or proportion of a group.", row => row.Cells)
        .Method(row => row.Cells.Method)
        .With(schema => schema with { AskedBy = "case_mix" });

    public static void Write(Func<string, string> place, IEnumerable<CaseMixFigures> models) => Table.Write(place, models.SelectMany(Rows));

    internal static string Event(CaseMixFigures model) => model.EventIsNotMet ? "not_met" : "met";

    private static IEnumerable<CaseMixRow> Rows(CaseMixFigures model)
    {
        yield return new(model, model.Figures is null ? "refused" : "model", model.Records, model.Events);
        if (model.Figures is not { } figures)
            yield break;
        foreach (var term in figures.Terms)
            yield return new(model, "odds_ratio", term.Records, term.Events)
            {
                Field = term.Field,
                Level = term.Level,
                Reference = term.Reference,
                Cells = IntervalCells.Of(term.OddsRatio, term.Interval, CaseMixTerm.Method),
            };
        yield return Figure("auc", figures.Auc.Value, figures.Auc.Interval, "delong_cross_validated");
        yield return Figure("auc_apparent", figures.ApparentAuc, null, "fitted_records");
        yield return Figure("calibration_intercept", figures.Intercept?.Value, figures.Intercept?.Interval, Calibration);
        yield return Figure("calibration_slope", figures.Slope?.Value, figures.Slope?.Interval, Calibration);
        yield return Figure("brier", figures.Brier, null, Calibration);
        yield return Figure("brier_of_mean", figures.BrierOfMean, null, "mean");
        foreach (var group in figures.Groups)
        {
            yield return Group("group_expected", group, IntervalCells.Of(group.Expected, null, Calibration));
            yield return Group("group_observed", group, IntervalCells.Of(
                group.Observed.Value, new(group.Observed.Lower, group.Observed.Upper), group.Observed.Method));
        }

        CaseMixRow Figure(string part, double? value, Bounds? interval, string method) =>
            new(model, part, model.Records, model.Events) { Cells = IntervalCells.Of(value, interval, method) };

        CaseMixRow Group(string part, CaseMixGroup group, IntervalCells cells) =>
            new(model, part, group.Observed.Count.Eligible, group.Observed.Count.Met) { Cells = cells };
    }
}
