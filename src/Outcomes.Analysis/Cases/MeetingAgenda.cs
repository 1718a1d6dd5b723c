using System.Collections.Immutable;
using Outcomes.Measures.Review;

namespace Outcomes.Analysis;

/// <summary>A part of a review meeting.</summary>
public enum AgendaPart
{
    Headline,
    OpenActions,
    Cases,

    /// <summary>Reading back what was decided.</summary>
    Close,
}

/// <summary>One line of an agenda.</summary>
/// <param name="Part">What it is.</param>
/// <param name="Start">Minutes from the start of the meeting.</param>
/// <param name="Minutes">How long it takes.</param>
public sealed record AgendaItem(AgendaPart Part, int Start, int Minutes)
{
    /// <summary>The kind of its cases; null for a part without cases.</summary>
    public CaseKind? Kind { get; init; }

    /// <summary>Its cases, by case id in the order of discussion.</summary>
    public ImmutableArray<string> Cases { get; init; } = [];

    public int End => Start + Minutes;
}

/// <summary>
/// What a meeting talks about, and for how long, by a fixed rule (<see cref="MinutesOf"/>, <see cref="MostOf"/>): our choice, no published
/// one. Where not all cases of a kind are discussed, the first by case id are: ids are random, so nobody chooses.
/// </summary>
/// <param name="Items">Its parts in order of time.</param>
/// <param name="NotDiscussed">Cases with a page for which there is no time.</param>
public sealed record MeetingAgenda(ImmutableArray<AgendaItem> Items, ImmutableArray<string> NotDiscussed)
{
    public const int HeadlineMinutes = 5, ActionMinutes = 1, CloseMinutes = 5;

    /// <summary>A longer meeting is told to split.</summary>
    public const int LongMinutes = 60;

    /// <summary>Minutes of the whole meeting.</summary>
    public int Total => Items.IsEmpty ? 0 : Items[^1].End;

    /// <summary>Minutes a case.</summary>
    public static int MinutesOf(CaseKind kind) => kind switch { CaseKind.One => 10, CaseKind.Drawn => 2, _ => 3 };

    /// <summary>How many cases of a kind are discussed.</summary>
    public static int MostOf(CaseKind kind) => kind switch { CaseKind.One => int.MaxValue, CaseKind.Two => 5, _ => 2 };

    /// <summary>The agenda of a month's cases and of the actions that are open.</summary>
    public static MeetingAgenda Plan(CasePack pack, int openActions)
    {
        ArgumentNullException.ThrowIfNull(pack);
        var items = ImmutableArray.CreateBuilder<AgendaItem>();
        var (start, left) = (0, new List<string>());
        Add(new(AgendaPart.Headline, 0, HeadlineMinutes));
        if (openActions > 0)
            Add(new(AgendaPart.OpenActions, 0, openActions * ActionMinutes));
        foreach (var kind in pack.Cases.Where(each => each.HasPage).GroupBy(each => each.Kind).OrderBy(group => group.Key))
        {
            string[] ids = [.. kind.Select(each => each.Id).Order(StringComparer.Ordinal)];
            ImmutableArray<string> told = [.. ids.Take(MostOf(kind.Key))];
            Add(new(AgendaPart.Cases, 0, told.Length * MinutesOf(kind.Key)) { Kind = kind.Key, Cases = told });
            left.AddRange(ids.Skip(told.Length));
        }

        Add(new(AgendaPart.Close, 0, CloseMinutes));
        return new(items.ToImmutable(), [.. left]);

        void Add(AgendaItem item)
        {
            items.Add(item with { Start = start });
            start += item.Minutes;
        }
    }
}
