using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>One coefficient: a log odds ratio for one unit of its column, or the intercept.</summary>
/// <param name="Value">The estimate.</param>
/// <param name="StandardError">From the inverse information at the estimate.</param>
/// <param name="Wald">Estimate ± z standard errors.</param>
/// <param name="Profile">From the (penalised) profile likelihood; null for the intercept, or when it was not asked for or does not
/// end.</param>
public sealed record Coefficient(double Value, double StandardError, Bounds Wald, Bounds? Profile);

/// <summary>A fitted logistic model: ln odds of met = intercept + Σ coefficient × column.</summary>
/// <param name="Coefficients">The intercept, then one for each column.</param>
/// <param name="Covariance">Of the coefficients, row by row.</param>
/// <param name="LogLikelihood">At the estimate, without the penalty.</param>
/// <param name="Separation">What stood in the way of finite coefficients.</param>
/// <param name="Penalised">True when the coefficients are Firth's.</param>
public sealed record LogisticFit(
    ImmutableArray<Coefficient> Coefficients, ImmutableArray<ImmutableArray<double>> Covariance, double LogLikelihood,
    Separation Separation, bool Penalised)
{
    /// <summary>−2 log likelihood.</summary>
    public double Deviance => -2 * LogLikelihood;

    /// <summary>The log odds that the model gives a row.</summary>
    public double LogOdds(IReadOnlyList<double> row)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.Count != Coefficients.Length - 1)
            throw new ArgumentException($"the row has {row.Count} columns, the model {Coefficients.Length - 1}", nameof(row));
        var sum = Coefficients[0].Value;
        for (var j = 0; j < row.Count; j++)
            sum += Coefficients[j + 1].Value * row[j];
        return sum;
    }

    /// <summary>The chance that the model gives a row, 0 to 1.</summary>
    public double Expected(IReadOnlyList<double> row) => Logit.Chance(LogOdds(row));
}
