using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>What one review meeting learned.</summary>
/// <param name="Month">The month whose cases were discussed.</param>
/// <param name="Held">The date of the meeting.</param>
/// <param name="Points">Its learning points, in the order of its cases; empty where it wrote none.</param>
public sealed record MeetingLearning(Month Month, DateOnly Held, ImmutableArray<string> Points)
{
    /// <summary>
    /// The last meeting about a month before <paramref name="month"/> that was held by <paramref name="asOf"/>; null where there is none,
    /// or where it wrote nothing.
    /// </summary>
    public static MeetingLearning? Last(IEnumerable<MeetingLearning> meetings, Month month, DateOnly asOf) => meetings
        .Where(each => each.Month < month && each.Held <= asOf).OrderBy(each => each.Held).ThenBy(each => each.Month).LastOrDefault()
        is { Points.IsEmpty: false } last ? last : null;
}
