using System.Collections.Frozen;
using System.Collections.Immutable;
using Outcomes.Ingestion.Mapping;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>What a mapping lifts for one column, because a person has looked at it.</summary>
/// <param name="Cells">Kinds that are no longer looked for in its cells.</param>
/// <param name="Columns">What is no longer asked of the column as a whole.</param>
/// <param name="Heading">True when its heading may name an identifier.</param>
public sealed record LiftedRules(Identifier Cells, WholeColumn Columns, bool Heading)
{
    private const WholeColumn WholeAll = WholeColumn.Unique | ScreenPlan.WholeOfKeys;

    private static readonly FrozenDictionary<string, LiftedRules> ByRule = Rules().ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>Nothing is lifted.</summary>
    public static LiftedRules None => new(default, default, Heading: false);

    /// <summary>Every search is lifted.</summary>
    public static LiftedRules All => new(IdentifierSets.OfUnread, WholeAll, Heading: true);

    /// <summary>The rules that can be lifted, in alphabetical order.</summary>
    public static ImmutableArray<string> Known { get; } = [.. ByRule.Keys.Order(StringComparer.Ordinal)];

    /// <summary>True when the column is not searched at all.</summary>
    public bool Everything => this == All;

    /// <summary>What statements on one column lift together; a statement without rules lifts everything.</summary>
    public static LiftedRules Of(IEnumerable<CheckedColumn> statements)
    {
        var lifted = None;
        foreach (var statement in statements)
        {
            if (statement.Rules.IsEmpty) return All;
            foreach (var rule in statement.Rules) lifted |= ByRule[rule];
        }

        return lifted;
    }

    public static LiftedRules operator |(LiftedRules left, LiftedRules right) =>
        new(left.Cells | right.Cells, left.Columns | right.Columns, left.Heading || right.Heading);

    private static Dictionary<string, LiftedRules> Rules()
    {
        var rules = new Dictionary<string, LiftedRules>(StringComparer.Ordinal)
        {
            [IdentifierRules.IdentifyingHeading] = None with { Heading = true },
            [IdentifierRules.Id(IdentifierRules.UniqueText)] = None with { Columns = WholeColumn.Unique },
            [IdentifierRules.Id(IdentifierRules.NameColumn)] = None with { Columns = WholeColumn.Names },
            [IdentifierRules.Id(IdentifierRules.BirthColumn)] = None with { Columns = WholeColumn.Births },
            [IdentifierRules.Id(IdentifierRules.NationalColumn)] = None with { Columns = WholeColumn.National },
            [IdentifierRules.Id(IdentifierRules.InitialsColumn)] = None with { Columns = WholeColumn.Initials },
            [IdentifierRules.Id(IdentifierRules.AddressColumn)] = None with { Columns = WholeColumn.Addresses },
            [IdentifierRules.Id(IdentifierRules.PhoneColumn)] = None with { Columns = WholeColumn.Phones | WholeColumn.Digits },
            [IdentifierRules.Id(IdentifierRules.PlateColumn)] = None with { Columns = WholeColumn.Plates },
        };
        for (var kind = Identifier.NhsForm; kind <= Identifier.Plate; kind = (Identifier)((int)kind << 1))
            if (kind is not (Identifier.TenDigits or Identifier.Unissued))
                rules[IdentifierRules.Id(IdentifierRules.Of(kind))] = None with { Cells = kind };
        // The share of ten-digit values that pass is judged under this rule, so all of them go with it.
        rules[IdentifierRules.Id(IdentifierRules.Of(Identifier.NhsNumber))] = None with
        {
            Cells = IdentifierSets.Passing | IdentifierSets.Counted
        };
        return rules;
    }
}
