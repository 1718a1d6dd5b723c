using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;
using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>Profile likelihood intervals.</summary>
internal static class Profile
{
    public const string Source =
        "Venzon DJ, Moolgavkar SH. Appl Stat 1988;37:87-94; penalised: Heinze G, Schemper M. Stat Med 2002;21:2409-2419";

    // An end this many standard errors away is no end.
    private const double Furthest = 60;

    /// <summary>
    /// The values of one coefficient at which twice the fall of the log likelihood, all others refitted, equals the χ²(1) quantile.
    /// Null when the likelihood flattens out before it has fallen so far.
    /// </summary>
    public static Bounds? Interval(LogisticProblem problem, bool penalised, Maximum maximum, double error, int column, double level)
    {
        var drop = ChiSquared.InvCDF(1, level);
        return End(-1) is { } lower && End(1) is { } upper ? new(lower / problem.Scale(column), upper / problem.Scale(column)) : null;

        double? End(int side)
        {
            var centre = maximum.Beta[column];
            var warm = (double[])maximum.Beta.Clone();
            var inside = centre;
            for (var away = 1.0; away <= Furthest; away *= 1.5)
            {
                var outside = centre + (side * away * error);
                if (Fall(outside) < 0)
                {
                    inside = outside;
                    continue;
                }

                var (low, high) = (Math.Min(inside, outside), Math.Max(inside, outside));
                return Brent.TryFindRoot(Fall, low, high, 1e-9 * Math.Max(1, Math.Abs(outside)), 200, out var root) ? root : null;
            }

            return null;

            double Fall(double value)
            {
                warm[column] = value;
                var held = Maximum.Find(problem, penalised, warm, column, 200, 1e-8);
                warm = (double[])held.Beta.Clone();
                return (2 * (maximum.Objective - held.Objective)) - drop;
            }
        }
    }
}
