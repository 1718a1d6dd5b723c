namespace Outcomes.CaseMix;

/// <summary>Chances and their log odds.</summary>
public static class Logit
{
    /// <summary>1 / (1 + e^−η), 0 to 1.</summary>
    public static double Chance(double logOdds) =>
        logOdds >= 0 ? 1 / (1 + Math.Exp(-logOdds)) : Math.Exp(logOdds) / (1 + Math.Exp(logOdds));

    /// <summary>ln(p / (1 − p)); infinite at 0 and 1.</summary>
    public static double LogOdds(double chance) => Math.Log(chance / (1 - chance));
}
