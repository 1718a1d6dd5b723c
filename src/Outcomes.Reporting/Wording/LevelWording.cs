using Outcomes.Analysis;
using Outcomes.Measures;

namespace Outcomes.Reporting;

/// <summary>Levels of a stratum as people read them: a value by its title, and what stands for several or for none in words.</summary>
public static class LevelWording
{
    /// <summary>A level with its figures: of merged levels there may be one alone, too small to be named.</summary>
    public static string Of(Titles titles, string field, LevelFigures level)
    {
        ArgumentNullException.ThrowIfNull(level);
        return level is { Level: StratumFigures.Other, Merged: 1 }
            ? "One other level, with few records"
            : Of(titles, field, level.Level);
    }

    /// <summary>A level by its name.</summary>
    public static string Of(Titles titles, string field, string level)
    {
        ArgumentNullException.ThrowIfNull(titles);
        return level switch
        {
            CountRow.MissingLevel => "Not recorded",
            StratumFigures.Other => "Other levels, merged",
            _ => titles.Level(field, level),
        };
    }
}
