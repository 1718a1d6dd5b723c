using System.Globalization;
using Outcomes.CaseMix;
using Outcomes.CaseMix.Challenger;

namespace Outcomes.Analysis;

/// <summary>How well one model tells events apart, cross-validated, in numbers of four digits.</summary>
/// <param name="Auc">Area under the ROC curve with DeLong's interval.</param>
/// <param name="Intercept">Calibration intercept; null where it cannot be said.</param>
/// <param name="Slope">Calibration slope; likewise.</param>
/// <param name="Brier">Brier score.</param>
public sealed record ModelScore(Spread Auc, double? Intercept, double? Slope, double Brier);

/// <summary>The case-mix model beside an additive one on its own columns, records and folds. It adjusts nothing.</summary>
/// <param name="Records">Records of the baseline.</param>
/// <param name="Events">Events among them.</param>
/// <param name="Logistic">The model that the report uses.</param>
/// <param name="Additive">The challenger.</param>
/// <param name="Difference">The area of the challenger less that of the model.</param>
public sealed record ChallengerFigures(int Records, int Events, ModelScore Logistic, ModelScore Additive, double Difference)
{
    /// <summary>The comparison; null without a column to compare on.</summary>
    internal static ChallengerFigures? Compare(CaseMixModel model, CaseMixData baseline)
    {
        if (model.Terms.IsEmpty)
            return null;
        var found = ModelComparison.Of(model, baseline, new CaseMixOptions());
        return new(found.Records, found.Events, Score(found.Logistic), Score(found.Additive), Four(found.Difference));
    }

    private static ModelScore Score(ModelJudgement found)
    {
        var (area, calibration) = (found.Discrimination, found.Calibration);
        return new(new(Four(area.Value), new(Four(area.Interval.Lower), Four(area.Interval.Upper))),
            Four(calibration.Intercept?.Value), Four(calibration.Slope?.Value), Four(calibration.Brier));
    }

    // The additive model works in single precision: further digits would be those of a processor.
    private static double Four(double value) =>
        double.Parse(value.ToString("G4", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    private static double? Four(double? value) => value is { } number ? Four(number) : null;
}
