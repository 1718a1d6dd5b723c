using System.Collections.Immutable;

namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>
/// The dictionary's quantities that are searched: case mix, physiology, doses and times; a department collects some of them.
/// </summary>
/// <remarks>
/// Scores, counts and angles stay outside: they take a handful of values and have no tail. So does end-tidal carbon dioxide, whose unit is
/// a column of its own that the consistency rules judge, and what a monitor's trace shows, which nobody typed.
/// </remarks>
public static class RecordFields
{
    /// <summary>Names, and whether the quantity is compared by its logarithm.</summary>
    public static ImmutableArray<(string Name, bool Logarithm)> All { get; } =
    [
        ("age_years", false), ("weight_kg", true), ("height_cm", true), ("preox_min", true), ("eto2_pre_pct", false),
        ("spo2_pre", false), ("spo2_min", false), ("spo2_at_2min", false), ("spo2_lt90_s", true),
        ("sbp_pre", true), ("sbp_min", true), ("map_pre", true), ("map_min", true), ("hr_pre", true), ("ph_pre", false),
        ("lactate_pre", true), ("ketamine_mg", true), ("propofol_mg", true), ("etomidate_mg", true), ("thiopental_mg", true),
        ("midazolam_mg", true), ("rocuronium_mg", true), ("suxamethonium_mg", true), ("tube_depth_cm", false), ("t_decision_s", true),
        ("t_preox_start_s", true), ("t_relaxant_s", true), ("t_first_blade_s", true), ("t_tube_confirmed_s", true),
    ];

    /// <summary>
    /// False for a known age below 16: children are few where adults are treated, and their weights, doses and pressures follow a
    /// pattern of their own.
    /// </summary>
    /// <param name="values">A value a field of <see cref="All"/>.</param>
    public static bool IsAdult(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        return !(values[0] < 16);
    }
}
