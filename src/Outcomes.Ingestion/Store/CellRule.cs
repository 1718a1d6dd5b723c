namespace Outcomes.Ingestion.Store;

/// <summary>What can be wrong with a cell or a row, before any consistency rule looks at it. The ids are a stable contract.</summary>
public enum CellRule : byte
{
    None,
    Missing,
    NotDate,
    NotTime,
    NotInteger,
    NotNumber,
    NotAllowed,
    OutOfRange,
    Implausible,
    RaggedRow,
    KeyTooLong,
    BrokenQuotes,
    MergedHeading,
    ErrorValue,
    SheetName,
    HiddenSheet,
    Comment,
    Property,
    DefinedName,
    WorkbookPart,

    /// <summary>From here on what the identifier detectors find: see <see cref="Identifiers.IdentifierRules"/>.</summary>
    Identifier = 64,
}
