using System.Collections.Frozen;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Words that stand capitalised in airway records and name nobody: places, roles, drugs, devices, findings, and what is said of them.
/// A pair of capitalised words is a person's name only when neither is one of these. Our own list, from common practice; words that
/// are surnames more often than anything else are left out on purpose.
/// </summary>
public static class ClinicalWords
{
    private static readonly FrozenSet<string> Words = (
        // Places and organisation
        "accident admission admissions ambulance anaesthesia anaesthetic anaesthetics anesthesia area bay bed bedside block bronchoscopy burns cardiac cardiology cardiothoracic "
        + "care cath ccu centre center clinic clinical coronary corridor critical ct day dental department dependency ear ed eicu emergency endoscopy ent floor foundation general "
        + "gynaecology haematology hdu hospital hub icu imaging infirmary inpatient intensive interventional invasive itu lab labour level list lounge main major majors maternity "
        + "maxillofacial medical medicine minors mri neonatal neuro neurology neurosurgery nhs nicu nose obstetric obstetrics office oncology outpatient outreach paediatric "
        + "paediatrics pacu picu plastics pod post prehospital psychiatry radiology recovery renal resp respiratory resus resuscitation retrieval room royal saint scan scanner school "
        + "service side site specialist st stroke suite surgery surgical team theatre theatres throat thoracic trauma treatment triage trust unit university upper lower urgent "
        + "urology vascular ward wing zone north south east west northern southern eastern western central city county district community memorial elsewhere outside abroad home "
        + "religion roman catholic church christian muslim hindu sikh jewish buddhist country kingdom united england scotland wales ireland british english scottish welsh irish european african asian caribbean american chinese indian mixed background "
        // Roles
        + "advanced anaesthetist anaesthetists assistant associate charge clinician consultant core doctor doctors fellow foundation grade helper intensivist junior lead locum "
        + "manager matron middle nurse nurses nursing observer odp operator operators paramedic physician physicians practitioner registrar resident senior sister specialty staff "
        + "student surgeon surgeons technician trainee trainees trainer training other external internal first second third fourth fifth one two three four five six seven eight nine ten "
        // Devices and equipment
        + "adaptor airtraq airway airways ambu angle bag balloon bed blade blades bougie bronchoscope bullard camera cannula cannulae capnograph capnography catheter channelled chin "
        + "circuit classic cmac collar combitube cook cormack cpap cric cricothyroidotomy cuff cuffed curved device devices direct disposable drain drip endotracheal eschmann ett "
        + "exchange exchanger eye face facemask fastrach fibreoptic fibrescope filter flexible flow fluid fona forceps frova frontal glidescope glottic gloves guedel gown handle "
        + "high hme hood hyperangulated igel intubating introducer ipad kit laryngeal laryngectomy laryngoscope laryngoscopes laryngoscopy lehane light line lma long mac macintosh "
        + "magill mallampati mask masks mcgrath mccoy melker mapleson miller model monitor monitoring monitors nasal nasopharyngeal needle nippv niv nrb optiflow oral oropharyngeal "
        + "oxygen pack paddle pentax piece pillow portable power probe prongs proseal pump rae ramp ramped reinforced reusable rigid scalpel scope screen seal sengstaken set short "
        + "shoulder size stand standard stilette storz straight stylet suction supraglottic supreme surgivet syringe tape tie titanium tip tracheal tracheostomy transducer transport "
        + "trolley truview tube tubes type venner ventilator version video videolaryngoscope videolaryngoscopes videolaryngoscopy videoscope view views visor wire wee yankauer "
        // Drugs and fluids
        + "acid adenosine adrenaline alfentanil amiodarone antibiotic antibiotics aramine atracurium atropine benzodiazepine blood bolus calcium chloride cisatracurium cocaine "
        + "crystalloid dexamethasone dextrose diazepam dobutamine dopamine dose doses drug drugs ephedrine epinephrine esmolol etomidate fentanyl flumazenil furosemide gas gelofusine "
        + "angiogram venogram hartmann solution bicarbonate gluconate glucose glycopyrrolate glycopyrronium haloperidol hartmanns heliox hydrocortisone hypertonic infusion inotrope inotropes insulin isoprenaline ketamine ketofol "
        + "labetalol levobupivacaine levetiracetam lidocaine lignocaine lorazepam magnesium mannitol metaraminol methylene midazolam milrinone mivacurium morphine naloxone neostigmine "
        + "nitrous nitric nebulised noradrenaline norepinephrine opioid oxide pancuronium paracetamol phenylephrine phenytoin plasmalyte platelets potassium procaine propofol red "
        + "remifentanil rocuronium saline salbutamol sedation sedative sevoflurane sodium steroid steroids sugammadex sulphate suxamethonium thio thiopental thiopentone tranexamic "
        + "unfractionated heparin vasopressin vasopressor vasopressors vecuronium cells packed plasma plan plans relaxant muscle neuromuscular blocker "
        // Conditions and findings
        + "abdomen abdominal abnormal abscess acidosis active acute agitated agitation alcohol allergy altered anaphylaxis aneurysm angioedema anterior aortic arrest arrhythmia arterial "
        + "artery aspiration asthma atrial awake bilateral bleed bleeding blind blocked blue bmi body bone bowel bradycardia brain breath breathing burn cancer carcinoma cardiogenic "
        + "cause cavity cerebral cervical chest chronic clear coagulopathy collapse coma compliance confusion congestive consciousness contaminated copd cord cords cough covid cpr craniofacial "
        + "cyanosis death decompensated deep deformity degree delayed delirium desaturation deteriorating deterioration diabetic diagnosis difficult difficulty disease disorder dissection "
        + "distress distal drowsy dyspnoea ectopic effusion elective embolism emesis encephalitis encephalopathy end epiglottis epiglottitis epilepsy epilepticus event events exacerbation "
        + "exhaustion exposure extubation facial failed failure fall fat fatigue fibrillation fibrosis fit flail foreign fracture frailty full fungal gastric gastrointestinal gcs glasgow "
        + "goitre guillain haematemesis haemoptysis haemorrhage haemorrhagic haemothorax hanging head heart hepatic hernia high hyperkalaemia hypercapnia hypercapnic hypertension "
        + "hypoglycaemia hypotension hypotensive hypothermia hypovolaemia hypoxaemia hypoxia hypoxic iatrogenic impaired impending induction infarction infection infectious infective "
        + "influenza inhalation injury injuries intracerebral intracranial intoxication ischaemia ischaemic isolated jaw junctional ketoacidosis kidney laryngospasm larynx left liver lobe "
        + "lobar low lung malignancy malignant marrow mass maxillary mechanical meningitis metabolic migraine mouth multi multiple myasthenia myocardial neck necrotising neoplasm nerve "
        + "neuromuscular normal nosocomial obesity obese obstructed obstructing obstruction obtunded occlusion oedema oesophageal oesophagus opening organ overdose pain pancreatitis paralysis "
        + "partial patient patients peak peptic perforation pericarditis peri peritonitis peripheral pharyngeal plasma pleural pneumonia pneumonitis pneumothorax poisoning poly polytrauma poor "
        + "positive posterior pregnancy pregnant pressure primary pulmonary pulse pulseless purulent pyloric rash ratio reaction reduced reflux refractory regurgitation renal reserve right "
        + "rigidity rupture secondary secretions seizure seizures sepsis septic severe shock sleep soiled spine spinal spontaneous stable status stenosis stridor subarachnoid subdural "
        + "sudden support swelling syndrome systemic tachycardia tamponade tension tetanus throat thrombosis thrombolysis tibial tidal tissue tongue tonsil tooth teeth torsade toxic "
        + "tracheomalacia transplant traumatic tumour type ulcer unconscious unresponsive unstable uraemia valve variceal varices vascular venous ventilation ventricular viral virus vomit "
        + "vomited vomiting vocal volume weakness wheeze wound "
        // What is said of them
        + "above absent access according actual additional adequate advance after again against agreed air alert all almost alone already also although always and another answer any applicable applied "
        + "apnoea apnoeic appropriate arrival arrived asleep assessed assisted at attempt attempted attempts attended audit available avoided aware away baby back bad bagged bagging before began "
        + "being below best better between both box briefing brought bundle but by call called calm came cancelled case change changed chart check checked checklist child children choice closed "
        + "code cold comment comments complete completed complex complication complications condition confirmed consider considered continued continuous control controlled correct could cover "
        + "created crew cricoid crash data date day days debrief debriefed deferred delay description despite did different discussed discussion displaced documented done double down due during "
        + "early easily easy effective eight either electronic elderly electively eligible empty enough entry equipment error every exact excellent expected experienced extra extubated family fair "
        + "fast feedback female few final fine finished flat followed following form found free from further gave gently given good got grossly group had half hand handed handover happened "
        + "hard has have having heavy held help his her hour hours how however if immediate immediately impossible improved in inadequate indication indicated information initial initially inserted "
        + "inserting insertion into intubated intubation intubations invited involved issue issues just kept kind known large larger last late later learning leave left less like limited little "
        + "local location look loose lost made maintained male man management manual manually many marked max maximum may mean measure meeting member met mid mild min mini minimal minimum minor "
        + "minute minutes missing moderate modified moment month monthly more morning most moved much near need needed needs negative never new next night nil no none not note noted notes "
        + "nothing now number observed obtained occurred of off often ok old on once only open optimal optimised option or order original our out over own oximetry paper part pass passed passes "
        + "peep people per perfect performed period person place placed planned please position positioned possible pre preox preoxygenated preoxygenation prepared present presented preserved previous "
        + "previously prior private problem problems procedure procedures progress prolonged prompt properly protocol provided public pushed put quality question quick quickly rapid rate reached "
        + "ready really reason received recent recognised record recorded reference referral referred refused regular rehearsed release removed repeat repeated replaced report reported request "
        + "required rest result return returned review reviewed rhythm role roles routine rsi safe said same satisfactory saturation saturations saw scheduled score secured see seen self sent sequence "
        + "several shared shift shifts should shown sign signs significant similar simple simulation since single situation slight slow slowly small smaller smooth so some soon spo source special stage "
        + "start started state step still stopped stuck study subject succeeded success successful successfully sufficient suspected switched taken taking talk task teaching technique temporary test "
        + "than that the their then there they this time timely times to together told too took top total touched toward transfer transferred tried tries true turned typical unable unclear under "
        + "unexpected unexpectedly unknown unplanned unrecordable unrecorded unrelated unremarkable unstated unsuccessful until up use used useful user using usual value various verbal very via video visible "
        + "visualised wait waiting was water weak week weekend weekday weeks well were what when where which while whole wide with within without woman women work worked working worse would written wrong "
        + "year years yes young yet you your monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october november december jan feb mar apr jun "
        + "jul aug sep sept oct nov dec "
        // Abbreviations
        + "aaa adhd af aki ali als ards asap asa avpu bipap bls bmv bp burp bvm cabg cci cicv cico cld cns co cpap cpb cva cvc cvvh cvp cxr das dka dl dlt dnacpr ecg echo ecmo eeg eto "
        + "etco fio fob fonacric gbs gi hfno hfnc hiv hme hr iabp ich ihd io ippv iv jvp lvf map mcot mi ng ngt nstemi ogt op pco pe pea peg po prn rass rosc rr rta rtc rv sah "
        + "sats sao sbp sga sob spo ssc stemi svt tbi tia tiva tof tor torp uti vap vf vl vt via wcc").Split(' ', StringSplitOptions.RemoveEmptyEntries).ToFrozenSet(StringComparer.OrdinalIgnoreCase);

    private static readonly FrozenSet<string>.AlternateLookup<ReadOnlySpan<char>> ByText = Words.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>True when the word, or the word without a final s, is one of these.</summary>
    public static bool Contain(ReadOnlySpan<char> word) =>
        ByText.Contains(word) || (word.Length > 3 && word[^1] is 's' or 'S' && ByText.Contains(word[..^1]));
}
