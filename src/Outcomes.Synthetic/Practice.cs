namespace Outcomes.Synthetic;

/// <summary>
/// The truths of the invented department: the chances that its procedures are drawn from. All are in thousandths, so that
/// a draw is a comparison of whole numbers and comes out the same on every processor.
/// </summary>
public static class Practice
{
    /// <summary>From this month on, the videolaryngoscope is taken first, after training with it.</summary>
    public static DateOnly ChangeMonth { get; } = new(2025, 1, 1);

    /// <summary>The first month of the winter in which oxygenation is worse.</summary>
    public static DateOnly WinterFrom { get; } = new(2024, 12, 1);

    /// <summary>The last month of that winter.</summary>
    public static DateOnly WinterTo { get; } = new(2025, 2, 1);

    /// <summary>The month in which hardly anything happens.</summary>
    public static DateOnly QuietMonth { get; } = new(2024, 8, 1);

    /// <summary>From this month on, the form asks for the airborne-precaution sequence.</summary>
    public static DateOnly SequenceMonth { get; } = new(2025, 4, 1);

    /// <summary>Chance that a senior was in the room: more often where trouble was foreseen.</summary>
    public static int SeniorPresent(bool foreseen) => foreseen ? 820 : 600;

    /// <summary>Chance that a vasopressor was drawn up.</summary>
    public static int VasopressorReady(bool foreseen) => foreseen ? 800 : 600;

    public static bool IsChanged(DateOnly date) => date >= ChangeMonth;

    public static bool IsWinter(DateOnly date) => date >= WinterFrom && date < WinterTo.AddMonths(1);

    /// <summary>Chance that a first laryngoscopy is by video rather than direct.</summary>
    public static int VideoFirst(DateOnly date) => IsChanged(date) ? 900 : 450;

    /// <summary>
    /// Chance that a first laryngoscopy succeeds. With the shares of <see cref="VideoFirst"/>, all first laryngoscopies
    /// succeed in 0.45 x 0.860 + 0.55 x 0.715 = 0.780 before the change and 0.90 x 0.920 + 0.10 x 0.720 = 0.900 after it.
    /// </summary>
    public static int FirstSuccess(DateOnly date, bool video) => (IsChanged(date), video) switch
    {
        (false, true) => 860,
        (false, false) => 715,
        (true, true) => 920,
        (true, false) => 720,
    };

    /// <summary>
    /// Chance that saturation falls below 90 % in a patient who starts at 90 % or more: higher with each failed attempt,
    /// and higher in the bad winter.
    /// </summary>
    public static int Desaturation(DateOnly date, int failedAttempts) =>
        Math.Min(950, (IsWinter(date) ? 280 : 80) + (failedAttempts * 220));
}
