using Outcomes.Analysis;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>challenger.csv</c>: one of the two models of a measure.</summary>
internal sealed record ChallengerRow(CaseMixFigures Model, ChallengerFigures Found, string Name, ModelScore Score)
{
    /// <summary>The area of this model less that of the one that the report uses.</summary>
    public double Difference => Name == ChallengerTable.Additive ? Found.Difference : 0;
}

/// <summary><c>challenger.csv</c>: the case-mix model beside an additive one. Numbers have four significant digits.</summary>
internal static class ChallengerTable
{
    public const string Additive = "additive";

    private const string Logistic = "logistic";

    public static readonly CsvTable<ChallengerRow> Table = new CsvTable<ChallengerRow>(
        "tables/challenger.csv",
        "The case-mix model beside a generalised additive one, for researchers: it adjusts nothing",
        "One row is one of the two models of a measure, judged on the same records and folds, kept out of the fit.")
        .Measure(row => row.Model.Measure.Id).Event(row => CaseMixTable.Event(row.Model))
        .Word("model", "logistic is the model that the report uses, additive the challenger.", row => row.Name,
            Logistic, Additive)
        .Number("records", "Records of the baseline.", row => row.Found.Records)
        .Number("events", "Events among them.", row => row.Found.Events)
        .Interval("Area under the ROC curve by cross-validation, with DeLong's interval.",
            row => IntervalCells.Of(row.Score.Auc.Value, row.Score.Auc.Interval, "delong_cross_validated"))
        .Method(_ => "delong_cross_validated")
        .Decimal("difference", "Area of this model less that of the logistic one.", row => row.Difference)
        .Decimal("calibration_intercept", "Calibration intercept; 0 is right.", row => row.Score.Intercept)
        .Decimal("calibration_slope", "Calibration slope; 1 is right.", row => row.Score.Slope)
        .Decimal(SharedColumns.Positive("brier", "Brier score; lower is better.") with { Required = true }, row => row.Score.Brier)
        .With(schema => schema with { AskedBy = "case_mix", Key = ["measure", "model"] });

    public static void Write(Func<string, string> place, IEnumerable<CaseMixFigures> models) => Table.Write(place, models
        .Where(model => model.Challenger is not null).SelectMany(model => new ChallengerRow[]
        {
            new(model, model.Challenger!, Logistic, model.Challenger!.Logistic),
            new(model, model.Challenger!, Additive, model.Challenger!.Additive),
        }));
}
