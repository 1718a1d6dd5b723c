using Outcomes.CaseMix;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>A fitted model as the report takes it.</summary>
internal static class FittedFigures
{
    public static FittedModel Of(CaseMixModel model, CaseMixData all, double[][] rows)
    {
        var unseen = model.Unseen(all).ToDictionary(item => item.Field, item => item.Records);
        return new FittedModel
        {
            Terms = [.. model.Terms.Select((term, at) => Term(model, term, model.Models.Full.Coefficients[at + 1]))],
            Fields = [.. model.Fields.Select(field => new CaseMixField(field.Field, field.Pooled,
                field.PooledIsReference, field.MissingRecords, unseen.GetValueOrDefault(field.Field)))],
            FullRecords = model.Models.FullRecords,
            PartModels = model.Models.PartModels,
            MeanRecords = rows.Count(model.Models.HasMean),
            Auc = new(ExpectedEvents.Six(model.Auc.Value), Six(model.Auc.Interval)),
            ApparentAuc = ExpectedEvents.Six(model.ApparentAuc.Value),
            Intercept = Spread(model.Calibration.Intercept),
            Slope = Spread(model.Calibration.Slope),
            Brier = ExpectedEvents.Six(model.Calibration.Brier),
            BrierOfMean = ExpectedEvents.Six(model.Calibration.BrierOfMean),
            Groups = [.. model.Calibration.Groups.Select(group => new CaseMixGroup(ExpectedEvents.Six(group.Expected), group.Observed))],
        };
    }

    private static CaseMixTerm Term(CaseMixModel model, Term term, Coefficient coefficient) => new(
        term.Field, term.Level, model.Fields.First(field => field.Field == term.Field).Reference, term.Records, term.Events,
        ExpectedEvents.Six(Math.Exp(coefficient.Value)),
        Six(new(Math.Exp(coefficient.Wald.Lower), Math.Exp(coefficient.Wald.Upper))));

    private static Spread? Spread(Coefficient? coefficient) =>
        coefficient is null ? null : new(ExpectedEvents.Six(coefficient.Value), Six(coefficient.Wald));

    private static Bounds Six(Bounds bounds) => new(ExpectedEvents.Six(bounds.Lower), ExpectedEvents.Six(bounds.Upper));
}
