namespace Outcomes.CaseMix;

/// <summary>Whether some combination of covariates tells the outcomes apart, so that no finite coefficients exist.</summary>
public enum Separation
{
    /// <summary>Finite coefficients exist.</summary>
    None,

    /// <summary>A combination is never on the wrong side, and for some records on the line between.</summary>
    Quasi,

    /// <summary>A combination tells every record right.</summary>
    Complete,
}

/// <summary>Finds separation by a certificate: a direction along which the likelihood never falls.</summary>
internal static class SeparationCheck
{
    private const double Nearly = 1e-6;

    /// <summary>
    /// The kind that a direction d proves: with s = ±1 the side of the outcome, s x'd ≥ 0 for all records and &gt; 0 for some
    /// is separation, complete when for all. None when the direction proves nothing.
    /// </summary>
    /// <remarks>
    /// Finite estimates exist exactly when no such direction does: Albert A, Anderson JA. Biometrika 1984;71:1-10. Newton's steps turn into
    /// such a direction by themselves when one exists, while without one they shrink to nothing; so the caller asks only when they do not.
    /// </remarks>
    public static Separation Find(LogisticProblem problem, double[] direction)
    {
        var margins = new double[problem.Records];
        for (var i = 0; i < margins.Length; i++)
        {
            var row = problem.Row(i);
            for (var j = 0; j < row.Length; j++)
                margins[i] += row[j] * direction[j];
            margins[i] *= problem.Side(i);
        }

        var largest = margins.Max(Math.Abs);
        var slack = Nearly * largest;
        return largest == 0 || margins.Min() < -slack ? Separation.None
            : margins.Min() > slack ? Separation.Complete
            : Separation.Quasi;
    }
}
