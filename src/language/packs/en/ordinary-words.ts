// Words of everyday speech. Spelled as they are here they are meant as they are, and no slip of a word that turns a report.

const WORDS = `
able accept accident account act add address afraid age agree alive allow alright although amazing angry animal
anymore appear apple april argue army arrive art asleep attack august aunt autumn aware awful badly bake band bank
barely bargain basket bath battle beach bear beard beat beautiful became bedroom beef beer begin behave believe below
bench beside bet beyond bicycle bird birthday bite bitter blanket bless blind boil bone border bored borrow bother
bought bow bowl branch brave breath breathe breeze brick bridge brief bright broad broken brought bug bump burger
burnt burst bury bush business butter button buzz cab cabbage cabin cable cake calendar calf calm camp cancel candle
candy cap careful careless carpet cart castle caught celebrate central century certain chain chalk chapel chapter
charge charger charlie chase chat cheat cheek cheer cheese cherry chest chicken chief children chilly chimney
chocolate choice chose cinema circle civil clap clearly cloth clown coach coast coin collar colleague collect college
comb comedy comfort compare complain concert concrete condition confident confuse confused contact content control
cookie correct cough council counted courage cousin crash crawl crazy cream cricket cried crime crisp crowd crown
cruel crush cupboard curious curly current curtain curve cute cycle daft damp danger dare darling daughter dawn deaf
december decent deer degree delay delicious delight deliver depend depot deserve detail devil diary dictionary died
diesel diet difficult dig direct disappear disco discover dish divorce dizzy doctor doll dollar donkey downstairs drag
dragon dramatic draw drawer drew drone drove drum duck due dull dumb dump duty eager eagle earn easily east elbow
electric elephant empty enemy energy engineer enter entire envelope equal error escape especially essay even event
evidence exact exam example excellent except excited excuse exercise exist exit expect expensive explain extra factory
fail fairy faith false famous farmer fashion favourite fear feather february feed fence festival fever fiction finally
fingers finish firm fist fit flag flame flash flavour flew flies flight flip float floats flood flow flower flown flu
fluff fold foreign forest forever forgot forgotten fork fortune fought fox frame freeze freezer fridge fried frog
frost froze frozen fruit fry fur furniture future gain game gang gap gas gather gentle ghost giant gift giggle given
glasses glove gloves glow glue goat golf goodbye goose gorgeous gossip grace grade grain grand grandad grandma grant
grape grass grateful grave gravy grease greedy greet grew grill grin grip grit growl grown grunt guard guest guilty
guitar gunk guts habit hairline ham hamster handle handsome handy hang harbour hardly harm haul haven hay headache
heal health healthy heap heaven hedge heel height held helmet helpful hen hero herself hey hid hidden hide himself
hire history hobby holiday hollow holy homework honey honour hook horrible horror host hotel however hug hum human
humming humour hung hunt hurried husband idiot idle idling imagine immediately impossible impress incident include
indeed indoors inform ink insect insulated insurance interest interested interesting internet interview invent invite
itch item jacket jail jam january jar jaw jealous jeans jelly jet jewel journey joy judder judge jumper jungle junior
jury keen keeper kept ketchup keyboard kilo kiss kit kite kitten knight knit knot knowledge known lab label laces
ladder laid lake lamb lamp lane language lap laser lately law lawn lawyer lay leaks leather lecture led legend lemon
lend length lesson liar library licence lid lightning likely limit limp lion lip liquid liver lizard loaf loan lobby
lock locker logo lonely loose lounge lovely loyal luggage lump lung lying machine madam magazine magnet major male mam
manage map march marriage marry mask mass massive material maths mayor meanwhile meat medal media medicine melt member
memory men mend mercy merry message mice microwave midnight mild mill mint miracle mirror miserable mist mix mob
mobile model modern monkey monster mood moral motion mountain mouse moustache movie mug multiply murder muscle museum
mushroom musical myself mystery nail naked nap narrow nasty nation nature naughty navy nearby nearly necessary
necklace needle neighbour nephew nervous nest network newspaper nicked nickname nicotine niece nightmare nod noisy
north notebook notice noticed novel november nowhere nurse obey obvious occasion ocean october officer older olive
onion online opinion orchestra ordinary original orphan ought ourselves outdoors oven owe owl owner painful pair
palace pale palm pan pancake panic parade pardon parent parrot pasta paste pastry path patient pattern pause paw pea
peace peach peak pear pen pencil penny pension pepper perfectly perhaps period permission pet petrol photo piano
picnic pile pill pillow pilot pin pine pink pirate pit pity plain planet plant plastic plate playing pleasant pleased
pleasure plug pockets poem poet poison polish polite pond pony pop popcorn popular pork port portion position poster
postman potato pour practice practise praise pray prefer president pretend pride priest prince princess prison prize
probably produce professor profit programme project promise properly protect protest proud prove public pump punch
punctual pupil puppet puppy purple purring purrs purse puzzle pyjamas quarrel queue quietly quilt quit quiz rabbit
racing rage rail railway rainbow raincoat rainy raise rang range rare raspberry rat rattle rattles raw react realise
receipt receive recipe record refuse regret regular relax religion remember remind remote rent repeat reply report
rescue respect restaurant result reward rhythm rice rid riddle rides ripe risk roar roast rob robbed robin rocket role
romantic root rope rose rotten roundabout royal rub rubber rubbing rude rug rugby ruin runner running rush rust sack
saddle safely sail sailor salad sale sandal sandals sandwich sang satellite sauce sausage scale scan scar scare scared
scarf scary scene science scissors scoop scratch scream scrub seal search season section seed seldom selfish sensible
sentence separate september serious servant serve service settle several sew sex shade shadow shake shall shampoo
shark sharp sheep shelf shell shelter shining shock shook shoot shopping shore shorts shower shown shy sigh sight
signal silence silent silk silver similar simply singer sink sir site skate ski skill skip skirt slap slave sleepy
sleeve slice slide slim slipped slipper slippers slips slowly slug smack smash smokes smooth smug snack snail snake
snap sneeze snore snowman soccer sock socks sofa soil sold soldier solid solution solve somebody somehow someone
sometimes somewhere sore soul sour south spaghetti speech spice spicy spider spill spilt spinach spirit spit spite
splash split spoil spoke spoon spread squad square squash squeak squeaks squeal squeeze squirrel stable stadium stair
stairs stamp stare starve steak steel steep steer stew sticks sticky stiff sting stir stole stomach storage stranger
straw strawberry stream strength stress stretch strict strike string strip stripe struck struggle student subject
succeed success sudden suddenly suffer suggest suitcase summer sunglasses sunny sunshine super supermarket supper
suppose surface surprised swallow swam swan swarf swear sweat sweater sweep sweetheart swept swing switch sword swore
sympathy tablet taken talent tame tan tape tasty taxi teacher tears tease teenager teeth telephone telly temper temple
tempt tennis tent terrible terrific text theatre theft themselves thief thousand thread threw throat throne throughout
thrown thumb thunder tickle tickover tidy tiger tight tip tissue toast toes toilet tomato tongue tonne tooth topic
torn tortoise touching tourist towel toy tradition trail trainer trainers transport trap tray treasure treat treatment
tremble trial triangle trousers trumpet trunk truth tulip tummy tune tunnel turkey turtle twin twist type typical
umbrella uncle understand understood underwear undo uniform unique unit universe university unlucky untidy upset
upstairs useless usually vacation vague vain valley valuable vanilla vanish vase vegetable veil velvet verb vest vet
vibration victim victory video village vinegar violet violin virus visitor volleyball vote voyage wage waist waiter
waitress wake walking wander wardrobe warn wasp waste wave weak wealth wealthy web wedding weed weight welcome whale
wheat whine whining whip whisky whisper whistle whoever wicked widow width win windy wing winner wipe wire wise witch
witness wobble woke wolf women wonderful wooden wool worm worried worth wound wreck wrist writer written wrote yard
yawn yelled yoga yoghurt younger youth zebra zero zone zoo
`;

export const ordinaryWords: readonly string[] = WORDS.trim().split(/\s+/);
