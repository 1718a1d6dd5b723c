namespace Outcomes.Statistics;

/// <summary>
/// Why an estimate has no interval: a formula without a standard error must not pass for certainty. Its ends are then the widest that the
/// scale has.
/// </summary>
public static class NoInterval
{
    /// <summary>The formula gives a width of 0.</summary>
    public const string NoError =
        "the standard error is 0 in these records, which makes nothing certain about others";

    /// <summary>A ratio's logarithm needs records in every cell of its formula.</summary>
    public const string EmptyCell = "a cell is empty, so the logarithm of the ratio has no standard error";

    /// <summary>One value has no spread.</summary>
    public const string OneValue = "one value says nothing about how much values vary";

    /// <summary>The values are all the same.</summary>
    public const string AlikeValues = "all values are the same, so their spread is 0, which makes nothing certain about others";

    /// <summary>Too few values for the order statistics of a quantile.</summary>
    public const string FewValues = "there are too few values for an end at this level";

    /// <summary>Groups whose variation was estimated as none.</summary>
    public const string AlikeGroups = "the groups do not vary beyond chance, so the model gives all of them one value without a range";
}
